//! The bench's pages begin here.
import { render } from "preact";
import "./style/base.css";
import "./style/bench.css";
import "./style/strip.css";
import "./style/sheets.css";
import "./style/start.css";
import "./style/print.css";
import { listen } from "./events.ts";
import { followKeys } from "./keys.ts";
import { followLight } from "./look.ts";
import { App } from "./parts/App.tsx";
import { followAddress } from "./place.ts";
import { readUnits } from "./show.ts";

followLight();
followAddress();
followKeys();
listen();
void readUnits().catch(() => {
  // The program is away; the page that opens says so.
});

const at = document.getElementById("bench");
if (at) {
  at.textContent = "";
  render(<App />, at);
}
