//! A drawing of the program's, set into the page so that it prints sharp and its words can be found.
import { useEffect, useRef, useState } from "preact/hooks";
import { getText } from "../api.ts";
import { Latest } from "../latest.ts";
import { Working } from "./Working.tsx";

interface Props {
  src: string;
  /** Changes when the drawing does. */
  of: number;
  /** What it shows; empty where words beside it say so. */
  what: string;
}

/** Numbers the drawings on the page, because ids inside them have to differ. */
let number = 0;

export function Picture({ src, of, what }: Props) {
  const at = useRef<HTMLDivElement>(null);
  const [error, setError] = useState<string | null>(null);
  const [there, setThere] = useState(false);
  const latest = useRef<Latest<string> | null>(null);
  useEffect(() => {
    latest.current ??= new Latest<string>(
      (text) => {
        setError(null);
        if (at.current) setThere(putDrawing(at.current, text, what));
      },
      (e) => setError((e as Error).message),
    );
    latest.current.ask(() => getText(src));
  }, [src, of, what]);
  return (
    <div class="picture-of">
      {error && <p class="quiet">{error}</p>}
      {!there && !error && <Working what="Drawing" />}
      <div class="drawing-plate" ref={at} hidden={!there} />
    </div>
  );
}

/** Parses the drawing and takes only what draws. */
function putDrawing(at: HTMLElement, text: string, what: string): boolean {
  const svg = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (svg.nodeName !== "svg") return false;
  for (const e of [...svg.querySelectorAll("script, foreignObject")]) e.remove();
  const mark = `p${++number}-`;
  for (const e of svg.querySelectorAll("[id]")) e.id = mark + e.id;
  for (const e of svg.querySelectorAll("*")) {
    for (const a of [...e.attributes]) {
      if (a.value.includes("url(#")) a.value = a.value.replace(/url\(#/g, `url(#${mark}`);
      else if (/(^|:)href$/.test(a.name) && a.value.startsWith("#")) a.value = `#${mark}${a.value.slice(1)}`;
    }
  }
  svg.classList.add("drawing");
  if (what === "") svg.setAttribute("aria-hidden", "true");
  else {
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", what);
  }
  at.replaceChildren(document.importNode(svg, true));
  return true;
}
