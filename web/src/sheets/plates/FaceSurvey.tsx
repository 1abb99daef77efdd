//! The survey of a face: readings with what is left over of each, the bad one named, and points clicked in a photograph.
import { useState } from "preact/hooks";
import { set } from "../../bench.ts";
import { Picture } from "../../parts/Picture.tsx";
import { planned } from "../../bench.ts";
import { showLine } from "../../parts/lines.ts";
import { rounded, show } from "../../show.ts";
import { systemOf } from "../../strip/Strip.tsx";
import type { EditAsked, FaceSheet, Reading } from "../../wire.ts";
import { Photo } from "./Photo.tsx";

/** `brought` is called when a photograph was: the document did not change, but what is known of the face did. */
export function FaceSurvey({ of: s, brought }: { of: FaceSheet; brought: () => void }) {
  const f = s.face;
  const [photo, setPhoto] = useState(s.photo.url !== null && s.photo.points.length > 0);
  const suspect = f.suspect;
  return (
    <div class="plate-desk survey">
      <div class="plate-main">
        <Standing of={s} />
        {suspect && (
          <p class="trouble" role="alert">
            <b>{suspect.what}</b> does not fit the others: it should be {show(suspect.should_mm, "mm", systemOf())} ± {rounded(suspect.should_sigma_mm, 2)} mm.{" "}
            {suspect.cures ? "Without it the rest agree. Read it again" : "Leaving it out alone does not make the rest agree"}
            {suspect.alike.length > 0 && <> · as likely: {suspect.alike.map((i) => f.readings[i]?.what).join(", ")}</>}
          </p>
        )}
        {f.faults.map((t) => (
          <p key={t} class="trouble">
            {t}
          </p>
        ))}
        <div class="row no-print" role="group" aria-label="Seen as">
          <button type="button" aria-pressed={!photo} onClick={() => setPhoto(false)}>
            Drawing
          </button>
          <button type="button" aria-pressed={photo} onClick={() => setPhoto(true)}>
            Photograph
          </button>
        </div>
        {photo ? <Photo of={s} brought={brought} /> : s.drawing && <Picture src={s.drawing} of={planned.value?.of ?? 0} what={`The face ${f.title ?? f.port} as surveyed`} />}
      </div>
      <div class="plate-side wide">
        {f.missing.length > 0 && (
          <section>
            <h3>To read yet, best first</h3>
            <ol class="trail">
              {f.missing.map((m) => (
                <li key={m}>{m}</li>
              ))}
            </ol>
          </section>
        )}
        <Readings of={s} />
      </div>
    </div>
  );
}

function Standing({ of: s }: { of: FaceSheet }) {
  const f = s.face;
  return (
    <p class={f.consistent ? "" : "of-fails"}>
      <b>{f.title ?? f.port}</b>: {f.readings.length} readings, {f.redundancy} more than needed.{" "}
      {f.redundancy === 0 ? "Nothing checks them yet" : f.consistent ? "They agree as well as they should" : "They do not agree"}
      {f.chi_square_limit !== null && (
        <span class="quiet">
          {" "}
          (chi-square {rounded(f.chi_square, 1)}, stays below {rounded(f.chi_square_limit, 1)})
        </span>
      )}
    </p>
  );
}

function Readings({ of: s }: { of: FaceSheet }) {
  const f = s.face;
  const most = Math.max(3, ...f.readings.map((r) => Math.abs(r.normalised ?? 0)));
  return (
    <table class="readings">
      <caption>Readings</caption>
      <thead>
        <tr>
          <th scope="col">Reading</th>
          <th scope="col">As read</th>
          <th scope="col" class="right">Left over</th>
          <th scope="col">By its deviation</th>
        </tr>
      </thead>
      <tbody>
        {f.readings.map((r, i) => (
          <Row key={`${r.what}-${String(i)}`} of={r} sheet={s} index={i} most={most} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ of: r, sheet, index, most }: { of: Reading; sheet: FaceSheet; index: number; most: number }) {
  const place = sheet.readings[index];
  const written = place?.text.split(" (")[0] ?? "";
  const bad = sheet.face.suspect?.reading === index;
  const send = (value: string) => {
    if (!place || value === written) return;
    const edit: EditAsked = { file: sheet.file, path: place.path, value };
    void set([edit], r.what);
  };
  const half = (46 * Math.abs(r.normalised ?? 0)) / most;
  const left = (r.normalised ?? 0) < 0;
  return (
    <tr class={bad ? "suspect" : ""} data-reading={index}>
      <th scope="row">
        {place?.at ? (
          <button type="button" class="bare link" onClick={() => place.at && showLine(place.at)}>
            {r.what}
          </button>
        ) : (
          r.what
        )}
      </th>
      <td>
        {place && place.path.length > 0 ? (
          <input key={written} aria-label={r.what} defaultValue={written} size={10} onBlur={(e) => send(e.currentTarget.value)} onKeyDown={(e) => { if (e.key === "Enter") send(e.currentTarget.value); }} />
        ) : (
          show(r.value_mm, "mm", systemOf())
        )}
      </td>
      <td class="right nowrap">{r.residual_mm.toFixed(3).replace(/^-(0\.0+)$/, "$1")} mm</td>
      <td>
        {r.normalised === null ? (
          <span class="quiet">nothing checks it</span>
        ) : (
          <svg class="residual" viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label={`${rounded(r.normalised, 1)} deviations`}>
            <path class="base" d="M50 0v10" />
            <rect x={left ? 50 - half : 50} y="2" width={half} height="6" />
          </svg>
        )}
      </td>
    </tr>
  );
}
