// What every place of the page does: keep its connection, show what has changed, say what was answered.

import { Wire } from "./wire.js";
import { Morph } from "./morph.js";
import { form, lead } from "./form.js";
import { pictures } from "./zoom.js";
import { piece, shown } from "./piece.js";
import { tabs } from "./tabs.js";
import { saving } from "./saving.js";
import { jobs } from "./jobs.js";
import { photo } from "./photo.js";
import { papers } from "./papers.js";
import { lit } from "./lit.js";
import { calibrations, light, look } from "./light.js";

const at = document.body.dataset.at;
let saying;
const calibrated = () => calibrations().then(() => pictures());

export function tell(answer) {
  if (!answer?.say) return;
  const box = document.getElementById("say");
  box.textContent = answer.say;
  box.className = answer.bad ? "shown bad" : "shown";
  clearTimeout(saying);
  saying = setTimeout(() => { box.className = ""; }, answer.bad ? 12000 : 6000);
}

// Nothing moves under a finger: what is heard while one is down is done once it is up and the press has been taken.
function still(hear) {
  let down = false, waiting = [];
  const up = () => setTimeout(() => {
    down = false;
    const all = waiting;
    waiting = [];
    all.forEach(hear);
  });
  addEventListener("pointerdown", () => { down = true; }, true);
  addEventListener("pointermove", (event) => { if (down && !event.buttons) up(); }, true);   // it was let go outside
  for (const end of ["pointerup", "pointercancel", "dragend", "blur"]) addEventListener(end, up, true);
  return (message) => { if (down) waiting.push(message); else hear(message); };
}

tabs();
pictures();
if (document.body.classList.contains("jobs")) jobs(tell);
photo(tell);
if (document.body.classList.contains("papers")) papers();
if (at) {
  const hear = still(({ parts, force, go, photo: brought }) => {
    if (brought) document.dispatchEvent(new CustomEvent("photo"));
    for (const [name, html] of Object.entries(parts ?? {})) {
      const element = document.getElementById(name);
      if (element) morph.put(element, html, force);
    }
    pictures();
    look();
    calibrated();
    shown();
    if (go) location.href = go;
  });
  const wire = new Wire(at, hear, (words) => { document.getElementById("net").textContent = words; });
  let made = { clash() {} };
  const morph = new Morph((path) => wire.pending(path), (path, theirs) => made.clash(path, theirs));
  if (document.querySelector(".light")) { light(wire, tell); lit(wire, tell); calibrated(); }
  if (document.body.classList.contains("job")) {
    made = form(wire, tell);
    saving(wire, tell);
    piece(wire, tell);
    if (location.hash) lead(document.getElementById(location.hash.slice(1)));
  }
}

document.addEventListener("click", async (event) => {
  const copied = event.target.closest("[data-copy]");
  if (!copied) return;
  await navigator.clipboard.writeText(document.getElementById(copied.dataset.copy).textContent);
  tell({ say: "It is on the clipboard: paste it into a letter." });
});

window.scriptsHaveCome();
