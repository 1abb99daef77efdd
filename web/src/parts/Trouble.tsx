//! The page for when nothing else can be shown: what is wrong, and what to do.
import { Away, Refused } from "../api.ts";
import { go } from "../place.ts";

export function Trouble({ error, again }: { error: Error; again: () => void }) {
  const [what, then] = said(error);
  return (
    <main class="trouble-page">
      <img src="/mark.svg" alt="" width="40" height="40" />
      <h1>{what}</h1>
      <p>{then}</p>
      {!(error instanceof Away || error instanceof Refused) && <pre class="mono">{`${error.name}: ${error.message}`}</pre>}
      <p class="row">
        <button type="button" class="main" onClick={again}>
          Try again
        </button>
        <a class="button" href="/" onClick={(e) => { e.preventDefault(); go({ build: null }); location.reload(); }}>
          All builds
        </a>
      </p>
      <p class="quiet">
        The build is a folder with a <code>build.toml</code>; whatever was saved is in it. <code>loomwright plan</code> shows the same findings in a terminal, and <code>git</code> or any copy of the folder
        keeps older states.
      </p>
    </main>
  );
}

function said(error: Error): [string, string] {
  if (error instanceof Away)
    return [
      "The bench's program does not answer",
      "It may have been stopped. Start it again in a terminal with `loomwright bench` and the folder of your builds; this page then finds it by itself.",
    ];
  if (error instanceof Refused) return [error.message, error.hint ?? "Go back to the list of builds and choose another."];
  return [
    "This page met a fault of its own",
    "Nothing that was saved is lost. Try again; if it comes back, the words below help whoever mends it.",
  ];
}
