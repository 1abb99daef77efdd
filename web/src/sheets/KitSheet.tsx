//! Kit: what is bought, made and packed, with a tick for what is in stock; how the reels are cut; labels.
import { signal } from "@preact/signals";
import { of } from "../api.ts";
import { build, plan, planOf } from "../bench.ts";
import { Icon } from "../icons.tsx";
import { Picture } from "../parts/Picture.tsx";
import { show } from "../show.ts";
import { systemOf } from "../strip/Strip.tsx";
import type { Item, Reel } from "../wire.ts";

/** What is ticked as in stock, kept by this browser: it changes no plan. */
const stock = signal<Record<string, boolean>>({});
let stockOf: string | null = null;

function readStock(id: string): void {
  if (stockOf === id) return;
  stockOf = id;
  try {
    stock.value = JSON.parse(localStorage.getItem(`bench.stock.${id}`) ?? "{}");
  } catch {
    stock.value = {};
  }
}

function tick(part: string, on: boolean): void {
  stock.value = { ...stock.value, [part]: on };
  try {
    localStorage.setItem(`bench.stock.${stockOf}`, JSON.stringify(stock.value));
  } catch {
    // Ticks then last as long as the page.
  }
}


export function KitSheet() {
  const p = plan.value;
  const id = build.value;
  if (!p || id === null) return null;
  readStock(id);
  const system = systemOf();
  const { items, cuts } = p.kit;
  const kinds = [...new Set(items.map((i) => i.kind))];
  const left = items.filter((i) => !stock.value[i.part]).length;
  const money = p.build.currency ?? "";
  return (
    <>
      <div class="row spread">
        <p class="sums">
          <b>{items.length}</b> parts, <b>{left}</b> to get · {show(p.kit.mass_kg, "kg", system)} · <b>{p.kit.cost.toFixed(2)} {money}</b>
          {p.kit.unpriced > 0 && <span class="quiet"> and {p.kit.unpriced} without a price</span>}
        </p>
        <div class="row no-print">
          <a class="button" href={of(id, "files/kit.csv")} download>CSV</a>
          <a class="button" href={of(id, "files/kit.xlsx")} download>Spreadsheet</a>
          <a class="button" href={of(id, "files/labels.svg")} download>Labels</a>
          <button type="button" onClick={() => print()}>
            <Icon name="print" /> Print
          </button>
        </div>
      </div>
      <div class="scroll-x">
        <table class="kit">
          <thead>
            <tr>
              <th scope="col" class="no-print">Have</th>
              <th scope="col" class="right">Count</th>
              <th scope="col">Part</th>
              <th scope="col">Where</th>
              <th scope="col" class="right">Mass</th>
              <th scope="col" class="right">{money}</th>
            </tr>
          </thead>
          {kinds.map((kind) => (
            <tbody key={kind}>
              <tr class="kind">
                <th scope="rowgroup" colSpan={6}>{kind}</th>
              </tr>
              {items.filter((i) => i.kind === kind).map((i) => (
                <Row key={i.part} of={i} />
              ))}
            </tbody>
          ))}
        </table>
      </div>
      <h2 class="over">Cut from the reel</h2>
      {cuts.length === 0 && <p class="quiet">Nothing to cut yet</p>}
      {cuts.map((c, i) => (
        <Cut key={`${c.cable}-${String(i)}`} of={c} />
      ))}
      <h2 class="over">Labels</h2>
      <Picture src={of(id, "files/labels.svg")} of={planOf.value ?? 0} what="Labels of all cables, to cut out" />
    </>
  );
}

function Row({ of: i }: { of: Item }) {
  const system = systemOf();
  const has = stock.value[i.part] ?? false;
  return (
    <tr class={has ? "in-stock" : ""}>
      <td class="no-print">
        <label class="tick">
          <input type="checkbox" checked={has} onChange={(e) => tick(i.part, e.currentTarget.checked)} />
          <span class="hidden-words">{i.name} in stock</span>
        </label>
      </td>
      <td class="right nowrap">
        <b>{i.length_mm === null ? i.count : show(i.length_mm, "mm", system)}</b>
        {i.spares > 0 && <span class="quiet"> + {i.spares}</span>}
      </td>
      <td>
        {i.name}
        <div class="quiet small">{i.part === i.name ? i.standing : `${i.part} · ${i.standing}`}</div>
      </td>
      <td class="small">{i.uses.map((u) => `${u.count} at ${u.where}`).join(", ")}</td>
      <td class="right nowrap">{i.mass_g === null ? "" : show(i.mass_g, "g", system)}</td>
      <td class="right nowrap">{i.cost === null ? <span class="quiet">no price</span> : i.cost.toFixed(2)}</td>
    </tr>
  );
}

/** A reel as a bar, each piece to scale. */
function Cut({ of: c }: { of: Reel }) {
  const system = systemOf();
  return (
    <figure class="reel">
      <figcaption>
        {c.cable}, reel of {show(c.reel_mm, "mm", system)}, {show(c.left_mm, "mm", system)} left over
      </figcaption>
      <svg viewBox={`0 0 ${c.reel_mm} 100`} preserveAspectRatio="none" aria-hidden="true">
        <rect width={c.reel_mm} height="100" />
        {c.pieces.map((p) => (
          <rect key={p.name} class="piece" x={p.from_mm} width={p.length_mm} height="100" />
        ))}
      </svg>
      <ol>
        {c.pieces.map((p) => (
          <li key={p.name}>
            <b>{p.name}</b> {show(p.length_mm, "mm", system)}
          </li>
        ))}
      </ol>
    </figure>
  );
}

