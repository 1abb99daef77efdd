//! A bench of its own for each test: copies of the example builds, the program on a free port, a page that complains
//! when its console does.
import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { after } from "node:test";
import { fileURLToPath } from "node:url";
import { launch } from "../chromium.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "../../..");
const PROGRAM = process.env.LOOMWRIGHT ?? join(root, "target/debug/loomwright");

function freePort() {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}

async function up(url) {
  for (let i = 0; i < 200; i++) {
    try {
      if ((await fetch(`${url}/api/about`)).ok) return;
    } catch {
      // Not yet.
    }
    await new Promise((r) => setTimeout(r, 50));
  }
  throw new Error(`the bench did not come up at ${url}`);
}

/** A bench over copies of the examples. */
export async function bench() {
  if (!existsSync(PROGRAM)) throw new Error(`no program at ${PROGRAM}: build it, or say where it is with LOOMWRIGHT`);
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  cpSync(process.env.BUILDS ?? join(root, "builds"), folder, { recursive: true });
  const port = await freePort();
  const url = `http://127.0.0.1:${port}`;
  let child;
  const start = async () => {
    child = spawn(PROGRAM, ["bench", folder, "--no-open", "--port", String(port)], { stdio: "ignore" });
    await up(url);
  };
  await start();
  return {
    url,
    folder,
    start,
    /** Ends it as a power cut would. */
    kill: () =>
      new Promise((resolve) => {
        child.once("exit", resolve);
        child.kill("SIGKILL");
      }),
    text: (build, file = "build.toml") => readFileSync(join(folder, build, file), "utf8"),
    async close() {
      child.kill("SIGKILL");
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** The bench of a file of tests; it and the browser are put away after the last of them. */
export async function benchOfFile() {
  const b = await bench();
  after(async () => {
    await b.close();
    await closeChromium();
  });
  return b;
}

let browser;
export async function chromium(how) {
  browser ??= await launch(how);
  return browser;
}
export async function closeChromium() {
  await browser?.close();
  browser = undefined;
}

/** A page whose console errors are gathered; `allow` says which are meant. */
export async function pageOf(options = {}) {
  const context = await (await chromium()).newContext({ viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(20000);
  const faults = [];
  page.on("pageerror", (e) => faults.push(e.message));
  page.on("console", (m) => m.type() === "error" && faults.push(m.text()));
  return { page, context, faults };
}

/** Opens a build and waits for its findings. */
export async function open(page, url, build = "orchard-truck", sheet = "heat") {
  await page.goto(`${url}/b/${build}/${sheet}`);
  await page.waitForSelector(".slip[data-of]");
  await page.waitForSelector(".strip .part");
}

export { root };
