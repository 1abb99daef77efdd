//! A photograph of the face: known points and the face's own, each clicked where it is seen.
import { useRef, useState } from "preact/hooks";
import { inAddress, postFile } from "../../api.ts";
import { build, say, set } from "../../bench.ts";
import { rounded, show } from "../../show.ts";
import { systemOf } from "../../strip/Strip.tsx";
import type { EditAsked, FaceSheet } from "../../wire.ts";

const MOST_BYTES = 12 * 1024 * 1024;

export function Photo({ of: s, brought }: { of: FaceSheet; brought: () => void }) {
  const [point, setPoint] = useState("");
  const [known, setKnown] = useState("");
  const [turn, setTurn] = useState(0);
  const picture = useRef<HTMLImageElement>(null);
  const names = [...s.face.holes, ...s.face.terminals, ...s.face.corners].map((p) => p.name);
  const left = names.filter((n) => !s.photo.points.some((p) => p.name === n));
  const bring = async (file: File | undefined) => {
    const id = build.value;
    if (!file || id === null) return;
    if (file.size > MOST_BYTES) return say(new Error("That photograph is larger than 12 MB; make it smaller and bring it again"));
    try {
      const ending = file.type === "image/png" ? "png" : "jpg";
      await postFile(`/api/builds/${inAddress(id)}/photos/${s.photo.name}.${ending}`, file);
      setTurn(turn + 1);
      brought();
    } catch (error) {
      say(error);
    }
  };
  const click = (e: MouseEvent) => {
    const img = picture.current;
    const name = point || left[0];
    if (!img || !name) return;
    const r = img.getBoundingClientRect();
    const px = [((e.clientX - r.left) / r.width) * img.naturalWidth, ((e.clientY - r.top) / r.height) * img.naturalHeight];
    put(s, name, px.map((v) => Number(v.toFixed(1))) as [number, number], known, [img.naturalWidth, img.naturalHeight]);
    setPoint("");
    setKnown("");
  };
  return (
    <div class="photo">
      <div class="row no-print">
        <label class="button">
          {s.photo.url ? "Another photograph" : "Bring a photograph"}
          <input type="file" accept="image/jpeg,image/png" class="hidden-words" onChange={(e) => void bring(e.currentTarget.files?.[0])} />
        </label>
        <label>
          Next click is{" "}
          <input list="photo-points" value={point} placeholder={left[0] ?? "a point's name"} size={8} onInput={(e) => setPoint(e.currentTarget.value)} />
        </label>
        <datalist id="photo-points">
          {left.map((n) => (
            <option key={n} value={n} />
          ))}
        </datalist>
        <label>
          known at{" "}
          <input value={known} placeholder="0 mm, 85.6 mm" size={14} onInput={(e) => setKnown(e.currentTarget.value)} />
        </label>
      </div>
      {!s.photo.url && <p class="quiet">At least four points of known place have to be in the picture: corners of a card or a square of known size, laid on the face</p>}
      {s.photo.url && (
        <div class="photo-field">
          {/* biome-ignore lint/a11y/useKeyWithClickEvents: the pixels can be written in the list below */}
          <img ref={picture} src={`${s.photo.url}?${turn}`} alt={`The face ${s.face.port}`} onClick={click} />
          {s.photo.size_px && (
            <svg viewBox={`0 0 ${s.photo.size_px[0]} ${s.photo.size_px[1]}`} aria-hidden="true">
              {s.photo.points.map((p) => (
                <g key={p.name} class={p.known_mm ? "known" : ""}>
                  <path d={`M${p.x_px - 16} ${p.y_px}h32M${p.x_px} ${p.y_px - 16}v32`} />
                  <text x={p.x_px + 10} y={p.y_px - 10}>
                    {p.name}
                  </text>
                </g>
              ))}
            </svg>
          )}
        </div>
      )}
      {s.photo.points.length > 0 && <Points of={s} />}
    </div>
  );
}

function put(s: FaceSheet, name: string, pixel: [number, number], known: string, size: [number, number]): void {
  const path = [...s.photo.path, "point", name];
  const edits: EditAsked[] = [{ file: s.file, path: [...path, "pixel"], value: pixel }];
  if (s.photo.size_px === null) edits.unshift({ file: s.file, path: [...s.photo.path, "size"], value: size });
  const at = known.split(",").map((w) => w.trim());
  if (at.length === 2) edits.push({ file: s.file, path: [...path, "at"], value: at });
  void set(edits, `point ${name} in the photograph`);
}

function Points({ of: s }: { of: FaceSheet }) {
  const left = new Map(s.face.photo?.known.map((k) => [k.name, k]) ?? []);
  return (
    <table>
      <caption>
        Points in the picture
        {s.face.photo && <span class="quiet"> left over {rounded(s.face.photo.rms_px, 2)} px, {rounded(s.face.photo.rms_mm, 3)} mm</span>}
      </caption>
      <thead>
        <tr>
          <th scope="col">Point</th>
          <th scope="col">Pixel</th>
          <th scope="col">Known place</th>
          <th scope="col" class="right">Left over</th>
        </tr>
      </thead>
      <tbody>
        {s.photo.points.map((p) => {
          const k = left.get(p.name);
          return (
            <tr key={p.name}>
              <th scope="row">{p.name}</th>
              <td>
                <input aria-label={`Pixel of ${p.name}`} key={`${p.x_px},${p.y_px}`} defaultValue={`${p.x_px}, ${p.y_px}`} size={14}
                  onKeyDown={(e) => {
                    const at = e.currentTarget.value.split(",").map(Number);
                    if (e.key === "Enter" && at.length === 2 && at.every(Number.isFinite)) put(s, p.name, at as [number, number], "", s.photo.size_px ?? [1, 1]);
                  }} />
              </td>
              <td>{p.known_mm ? `${show(p.known_mm[0], "mm", systemOf())}, ${show(p.known_mm[1], "mm", systemOf())}` : ""}</td>
              <td class="right">{k ? `${rounded(k.residual_px, 2)} px` : ""}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
