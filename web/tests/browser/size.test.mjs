//! What the pages weigh.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { gzipSync } from "node:zlib";
import { root } from "./harness.mjs";

const MOST = 500_000;
/** Large libraries with a chunk of their own, fetched only when they are wanted. */
const APART = /^(three|editor)-/;

test("the bench's own bundle is at most 500 kB, compressed", () => {
  const folder = join(root, "web/dist/assets");
  let sum = 0;
  for (const name of readdirSync(folder)) {
    if (APART.test(name) || !/\.(js|css)$/.test(name)) continue;
    sum += gzipSync(readFileSync(join(folder, name))).length;
  }
  assert.ok(sum > 20_000, "there is a bundle");
  assert.ok(sum <= MOST, `${sum} bytes`);
});

test("nothing is fetched from elsewhere", () => {
  const folder = join(root, "web/dist/assets");
  for (const name of readdirSync(folder)) {
    if (!/\.css$/.test(name)) continue;
    assert.doesNotMatch(readFileSync(join(folder, name), "utf8"), /url\((?!["']?(\/assets|data:|#))/);
  }
});
