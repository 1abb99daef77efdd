//! Chromium as the tests drive it: Debian's, without a network, with software 3-D.
import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** Where the browser is; CHROMIUM says otherwise. */
export const executable = process.env.CHROMIUM ?? PLACES.find((p) => existsSync(p));

/** With 3-D drawn by the processor; without it where paints are timed, for that way of drawing slows every page. */
export function launch({ threeD = true } = {}) {
  if (!executable) throw new Error("no chromium found: install it, or say where it is with CHROMIUM");
  const drawing = threeD ? ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"] : ["--disable-gpu"];
  return chromium.launch({ executablePath: executable, args: ["--no-sandbox", ...drawing] });
}
