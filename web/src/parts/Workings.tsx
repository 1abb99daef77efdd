//! How a finding's number came about: relation, inputs, source.
import { show, type System } from "../show.ts";
import type { Notice, Worked } from "../wire.ts";

export function Workings({ of, worked, system }: { of: Notice; worked: Worked[] | null; system: System }) {
  const all = (worked ?? []).filter((_, i) => of.workings.includes(i));
  return (
    <div class="workings-all">
      {all.length > 0 && (
        <ul class="workings">
          {all.map((w) => (
            <li key={w.what + w.law}>
              <div>
                {w.what}: <b>{show(w.value, w.unit, system)}</b>
              </div>
              <div class="law">{w.law}</div>
              {w.inputs.length > 0 && (
                <table>
                  <tbody>
                    {w.inputs.map((i) => (
                      <tr key={i.name}>
                        <th scope="row">{i.name}</th>
                        <td class="right">{show(i.value, i.unit, system)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              )}
            </li>
          ))}
        </ul>
      )}
      <p class="source">Rule after: {of.source_text}</p>
    </div>
  );
}
