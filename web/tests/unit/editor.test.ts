import assert from "node:assert/strict";
import { test } from "node:test";
import { changeBetween, joined } from "../../src/editor/diff.ts";
import { insideAt, namesFor, shownBy, statementAt, written } from "../../src/editor/inline.ts";
import { Sync, type Wire } from "../../src/editor/sync.ts";
import { fits, keyParts, tableAt, unquoted, writtenIn } from "../../src/editor/toml.ts";

const apply = (a: string, c: ReturnType<typeof changeBetween>) => (c ? a.slice(0, c.from) + c.insert + a.slice(c.to) : a);

test("the change between two texts turns one into the other and touches no more", () => {
  for (const [a, b] of [["abc", "abXc"], ["aaa", "aa"], ["", "x"], ["x", ""], ["one two", "one 2 two"], ["aba", "ababa"]] as const) {
    assert.equal(apply(a, changeBetween(a, b)), b);
  }
  assert.deepEqual(changeBetween("length = 2", "length = 3"), { from: 9, to: 10, insert: "3" });
  assert.equal(changeBetween("same", "same"), null);
});

test("changes in different places are joined, changes that meet are not", () => {
  assert.equal(joined("one two three", "ONE two three", "one two THREE"), "ONE two THREE");
  assert.equal(joined("one two three", "one two THREE", "ONE two three"), "ONE two THREE");
  assert.equal(joined("one two", "one 2", "one zwei"), null);
  assert.equal(joined("one", "one", "two"), "two");
});

function program(start: string) {
  const state = { version: 1, text: start, sent: [] as string[], put: [] as string[], met: 0, down: false };
  const wire: Wire = {
    async send(base, text) {
      await Promise.resolve();
      if (state.down) throw new Error("away");
      if (base !== state.version) return "moved";
      state.sent.push(text);
      state.text = text;
      state.version += 1;
      return { version: state.version };
    },
    async fetch() {
      return { version: state.version, text: state.text };
    },
    put: (t) => state.put.push(t),
    met: () => {
      state.met += 1;
    },
    failed: () => {},
  };
  return { state, sync: new Sync({ version: 1, text: start }, wire) };
}

test("what is typed while a text is under way waits as one", async () => {
  const { state, sync } = program("a");
  for (const t of ["ab", "abc", "abcd", "abcde"]) sync.type(t);
  await sync.flush();
  assert.deepEqual(state.sent, ["ab", "abcde"]);
  assert.equal(sync.behind, false);
});

test("a change made elsewhere meanwhile is joined with what was typed", async () => {
  const { state, sync } = program("one two three");
  state.text = "one two THREE";
  state.version = 5;
  sync.type("ONE two three");
  await sync.flush();
  assert.equal(state.text, "ONE two THREE");
  assert.deepEqual(state.put, ["ONE two THREE"]);
  assert.equal(state.met, 0);
});

test("where both changed the same place someone is asked", async () => {
  const { state, sync } = program("one two");
  state.text = "one zwei";
  state.version = 2;
  sync.type("one 2");
  await sync.flush();
  assert.equal(state.met, 1);
  assert.equal(state.text, "one zwei");
});

test("what could not be sent is kept and sent when the program is back", async () => {
  const { state, sync } = program("a");
  state.down = true;
  sync.type("ab");
  await sync.flush();
  assert.equal(state.text, "a");
  state.down = false;
  sync.resume();
  await sync.flush();
  assert.equal(state.text, "ab");
});

test("a newer text from elsewhere is put in, an older or the same is not", () => {
  const { state, sync } = program("a");
  sync.heard({ version: 3, text: "b" });
  sync.heard({ version: 2, text: "old" });
  sync.heard({ version: 4, text: "b" });
  assert.deepEqual(state.put, ["b"]);
});

const TEXT = `title = "A # b" # a remark
[run.phases]
length = "1.4 m"
[run.phases.from-end]   # this end
bolt = "M8x12"
[run."odd name"]
length = "2 m"
`;

test("keys are found in their table, remarks and quotes taken off", () => {
  assert.deepEqual(writtenIn(TEXT, []), [{ key: "title", value: '"A # b"', line: 0 }]);
  assert.deepEqual(writtenIn(TEXT, ["run", "phases", "from-end"]).map((w) => [w.key, unquoted(w.value)]), [["bolt", "M8x12"]]);
  assert.deepEqual(writtenIn(TEXT, ["run", "odd name"]).map((w) => w.value), ['"2 m"']);
});

test("the table of a line is the last header above it", () => {
  const lines = TEXT.split("\n");
  assert.deepEqual(tableAt(lines, 0), []);
  assert.deepEqual(tableAt(lines, 4), ["run", "phases", "from-end"]);
  assert.deepEqual(keyParts('a."b.c".d'), ["a", "b.c", "d"]);
});

test("a pattern's capitals stand for any id", () => {
  assert.ok(fits("run.ID.from-end", ["run", "phases", "from-end"]));
  assert.ok(!fits("run.ID", ["run", "phases", "from-end"]));
  assert.ok(fits("", []));
});

test("a key begun in a table on the line is known with the table it stands in", () => {
  assert.deepEqual(insideAt("plate = { mat"), { path: ["plate"], key: null, word: "mat", there: [] });
  assert.deepEqual(insideAt('plate = { material = "x", thi'), { path: ["plate"], key: null, word: "thi", there: ["material"] });
  assert.deepEqual(insideAt('distances = { phases = "0.6 m", '), { path: ["distances"], key: null, word: "", there: ["phases"] });
  assert.deepEqual(insideAt('port = { dc = { plate = { bolt'), { path: ["port", "dc", "plate"], key: null, word: "bolt", there: [] });
});

test("a value begun in a table on the line is known with its key", () => {
  assert.deepEqual(insideAt('plate = { material = "alu'), { path: ["plate"], key: "material", word: '"alu', there: ["material"] });
  assert.deepEqual(insideAt('grip-at = { "+" = "65 mm, '), { path: ["grip-at"], key: "+", word: '"65 mm, ', there: ["+"] });
  assert.deepEqual(insideAt('a = { list = ["x", "y"], key = 3'), { path: ["a"], key: "key", word: "3", there: ["list", "key"] });
});

test("outside of every table on the line nothing stands in one", () => {
  for (const text of ["", "mat", 'length = "2 m', "dies = [", 'dies = ["{", ', 'plate = { a = 1 }', 'note = "{ mat', "# plate = { mat", "plate = { # mat"]) assert.equal(insideAt(text), null, text);
});

test("a list of tables may go over several lines", () => {
  const lines = ["[run.dc]", "section = [", '  { length = "1 m", air = "40 degC" }, # first', "  { len"];
  const text = statementAt(lines, 3, lines[3] ?? "");
  assert.deepEqual(insideAt(text), { path: ["section"], key: null, word: "len", there: [] });
  assert.equal(statementAt(["[run.dc]", "  { len"], 1, "  { len"), "  { len");
});

test("names written one by one come from the build, and an example shows the rest", () => {
  const end = (port: string, terminal: string) => ({ port, terminal });
  const plan = { runs: [{ id: "dc", cables: [{ id: "+", ends: [end("battery.main", "+"), end("inverter.dc", "P")] }] }] };
  assert.deepEqual(namesFor(["field", "point", "seat"], "distances", plan), ["dc"]);
  assert.deepEqual(namesFor(["run", "dc"], "lengths", plan), ["+"]);
  assert.deepEqual(namesFor(["device", "inverter", "port", "dc", "plate"], "grip-at", plan), ["P"]);
  assert.deepEqual(namesFor(["run", "dc"], "lengths", null), []);
  assert.deepEqual(shownBy('{ F1 = "-66 mm, 0 mm", "+" = "66 mm, 0 mm" }'), { names: ["F1", "+"], value: '"-66 mm, 0 mm"' });
  assert.equal(written("+"), '"+"');
  assert.equal(written("U"), "U");
});
