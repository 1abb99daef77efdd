//! A body of the program's in three dimensions: turned by pointer or keys, drawn apart by a slider.
import { useEffect, useRef, useState } from "preact/hooks";
import { dark } from "../look.ts";
import { Working } from "../parts/Working.tsx";
import type { Viewer } from "./viewer.ts";

interface Props {
  src: string;
  /** Changes when the body does. */
  of: number;
  what: string;
  /** Whether its parts can be drawn apart. */
  apart?: boolean;
}

export function Solid({ src, of, what, apart = false }: Props) {
  const at = useRef<HTMLDivElement>(null);
  const viewer = useRef<Viewer | null>(null);
  const [state, setState] = useState<"coming" | "there" | string>("coming");
  const [distance, setDistance] = useState(apart ? 0.5 : 0);
  const [names, setNames] = useState<string[]>([]);
  useEffect(() => {
    let gone = false;
    const field = at.current;
    if (!field) return;
    import("./viewer.ts").then(
      (m) => {
        if (gone) return;
        try {
          viewer.current = m.viewerIn(field, dark.value);
          void load();
        } catch {
          setState("This browser shows no 3-D here; the section beside it shows the same parts");
        }
      },
      () => setState("The 3-D part of the bench could not be fetched"),
    );
    return () => {
      gone = true;
      viewer.current?.close();
      viewer.current = null;
    };
  }, []);
  const load = async () => {
    try {
      const found = await viewer.current?.show(src);
      viewer.current?.apart(distance);
      setNames(found ?? []);
      setState("there");
    } catch (error) {
      setState((error as Error).message);
    }
  };
  useEffect(() => void (viewer.current && load()), [src, of]);
  useEffect(() => viewer.current?.light(dark.value), [dark.value]);
  useEffect(() => viewer.current?.apart(distance), [distance]);
  return (
    <figure class="solid">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the body is turned by keys */}
      <div class="solid-field" ref={at} tabIndex={0} role="img" aria-label={`${what}. ${names.join(", ")}. Arrow keys turn it, plus and minus zoom`}
        onKeyDown={(e) => {
          if (viewer.current?.key(e.key)) e.preventDefault();
        }} />
      {state === "coming" && <Working what="Bringing the body" />}
      {state !== "coming" && state !== "there" && <p class="quiet">{state}</p>}
      <figcaption class="row">
        {apart && (
          <label class="apart">
            drawn apart
            <input type="range" min="0" max="1" step="0.02" value={distance} onInput={(e) => setDistance(Number(e.currentTarget.value))} />
          </label>
        )}
        <button type="button" onClick={() => viewer.current?.home()}>
          As it was
        </button>
      </figcaption>
    </figure>
  );
}
