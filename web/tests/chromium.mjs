//! Chromium as the tests drive it: Debian's, without a network, with software 3-D.
import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** Where the browser is; CHROMIUM says otherwise. */
export const executable = process.env.CHROMIUM ?? PLACES.find((p) => existsSync(p));

export function launch() {
  if (!executable) throw new Error("no chromium found: install it, or say where it is with CHROMIUM");
  const args = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
  return chromium.launch({ executablePath: executable, args });
}
