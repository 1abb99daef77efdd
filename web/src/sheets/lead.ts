//! Leads to the sheet a place of the build is shown on.
import { chosen, type Chosen } from "../chosen.ts";
import { go } from "../place.ts";

export function leadTo(to: Chosen): void {
  chosen.value = to;
  if (to.run !== null) go({ sheet: "ends" });
  else if (to.port !== null) go({ sheet: "plates" });
}
