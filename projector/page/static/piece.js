// The cuts on the cloth: clicked they say what they are, dragged along the piece they are tried where their rows come
// right. Arrow keys on the button of a cut do the same.

const SVG = "http://www.w3.org/2000/svg", SLIP = 0.06, GHOST = ".ghost, .ghost-plate, .ghost-words";
let chosen = null, trying = null, wire, tell;

export function piece(asks, tells) {
  wire = asks; tell = tells;
  const list = document.getElementById("cloth-cuts");
  if (!list) return;
  list.addEventListener("click", (event) => { const button = event.target.closest("[data-cut]"); if (button) choose(button.dataset.cut); });
  list.addEventListener("keydown", (event) => {
    const { cut } = found(event.target.dataset.cut);
    if (!cut || event.ctrlKey || event.altKey || event.metaKey) return;
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (by) { choose(cut.id); step(cut, by); } else if (event.key === "Enter" && trying) keep(cut); else if (event.key === "Escape" && trying) leave(); else return;
    event.preventDefault();
  });
  list.addEventListener("focusout", () => { if (trying && !trying.dragged) leave(); });
  document.getElementById("about-cut").addEventListener("click", async (event) => {
    const { cut } = found(chosen);
    if (cut && event.target.closest("[data-let-go]")) tell(await wire.ask({ do: "let go", path: cut.path, panel: cut.panel, cut: cut.cut }));
    if (cut && event.target.closest("[data-step]")) { step(cut, Number(event.target.closest("[data-step]").dataset.step)); }
    if (cut && trying && event.target.closest("[data-keep]")) keep(cut);
  });
  shown();
}

// One drawing for each cloth, with what is known of it; and the drawing in which a cut lies.
const drawings = () => [...document.querySelectorAll("#cloth svg")].filter((svg) => svg.querySelector("metadata"));

function known(svg) {
  const held = svg.querySelector("metadata");
  held.known ??= JSON.parse(held.textContent);
  return held.known;
}

function found(id) {
  for (const svg of drawings()) { const all = known(svg), cut = all.cuts.find((one) => one.id === id); if (cut) return { svg, all, cut }; }
  return {};
}

// The picture is another one: the cuts in it are ready to be clicked again.
export function shown() {
  const svgs = drawings(), list = document.getElementById("cloth-cuts");
  if (!list) return;
  if (!svgs.length) { list.replaceChildren(); return; }
  const fresh = svgs.filter((svg) => !svg.querySelector(".cut-at"));
  if (!fresh.length) return;
  trying = null;
  for (const svg of fresh) for (const cut of known(svg).cuts) for (const tier of known(svg).tiers) {
    if (tier.piece !== cut.piece || cut.start >= tier.to || cut.start + cut.length <= tier.from) continue;
    const rect = made("rect", { class: `cut-at${cut.wished ? " wished" : ""}`, "data-cut": cut.id, ...box(cut, tier, cut.start) });
    rect.append(Object.assign(document.createElementNS(SVG, "title"), { textContent: cut.name }));
    rect.addEventListener("pointerdown", (event) => grab(event, cut));
    svg.append(rect);
  }
  const cuts = svgs.flatMap((svg) => known(svg).cuts);
  const have = [...list.children].map((one) => one.dataset.cut).join(), want = cuts.map((one) => one.id).join();
  if (have !== want) list.replaceChildren(...cuts.map((cut) => Object.assign(document.createElement("button"), { type: "button" })));
  cuts.forEach((cut, number) => { const button = list.children[number]; button.dataset.cut = cut.id; if (button.textContent !== cut.name) button.textContent = cut.name; });
  if (!cuts.some((cut) => cut.id === chosen)) chosen = null;
  about();
}

function made(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function box(cut, tier, start) {
  const from = Math.max(start, tier.from), to = Math.min(start + cut.length, tier.to), [near, far] = cut.across;
  return { x: tier.left + (from - tier.from) * tier.scale, width: Math.max(0, to - from) * tier.scale, y: tier.lower - far * tier.scale, height: (far - near) * tier.scale };
}

function choose(id) { if (chosen !== id) leave(); chosen = id; about(); }

function about() {
  const { all, cut } = found(chosen), text = document.getElementById("about-cut");
  for (const rect of document.querySelectorAll("#cloth .cut-at")) rect.classList.toggle("chosen", rect.dataset.cut === chosen);
  for (const button of document.querySelectorAll("#cloth-cuts button")) button.setAttribute("aria-pressed", button.dataset.cut === chosen);
  if (!cut) return;
  const lines = trying ? [`Tried at ${where(trying.place, all)}`] : [...cut.what, ...(cut.wished ? ["It lies where you placed it"] : []), ...(cut.held ? [cut.held] : [])];
  const heading = Object.assign(document.createElement("h3"), { textContent: cut.name });
  const buttons = Object.assign(document.createElement("p"), { className: "buttons" });
  const button = (words, key, value = "") => { const one = Object.assign(document.createElement("button"), { textContent: words, type: "button" }); one.dataset[key] = value; buttons.append(one); };
  if (cut.places.length > 1) { button("Earlier place", "step", "-1"); button("Later place", "step", "1"); }
  if (trying) button("Keep it there", "keep");
  if (cut.wished && !trying) button("Let it lie anywhere", "letGo");
  const held = document.activeElement?.dataset.step;
  text.replaceChildren(heading, Object.assign(document.createElement("p"), { textContent: `${lines.join(". ")}.` }), buttons);
  if (held) text.querySelector(`[data-step="${held}"]`)?.focus();
}

function where([piece, , , words], all) { return new Set(all.tiers.map((one) => one.piece)).size > 1 || all.cuts.some((one) => one.piece !== piece) ? `${words} on piece ${piece}` : words; }

function step(cut, by) {
  const now = trying?.place ?? [cut.piece, cut.start];
  const after = (one) => one[0] - now[0] || one[1] - now[1];
  const next = by > 0 ? cut.places.find((one) => after(one) > 1e-6) : cut.places.findLast((one) => after(one) < -1e-6);
  if (next) tried(cut, next);
}

// Show where the cut would lie.
function tried(cut, place, dragged = false) {
  const { svg, all } = found(cut.id), [number, start, , words] = place;
  svg.querySelectorAll(GHOST).forEach((one) => one.remove());
  trying = { cut, place, dragged };
  for (const tier of all.tiers) {
    if (tier.piece !== number || start >= tier.to || start + cut.length <= tier.from) continue;
    const at = box(cut, tier, start);
    svg.append(made("rect", { class: "ghost", ...at }));
    const middle = at.x + at.width / 2, wide = 0.3 + 0.14 * words.length;
    const letters = made("text", { class: "ghost-words", x: middle, y: at.y + 0.3 });
    letters.textContent = words;
    svg.append(made("rect", { class: "ghost-plate", x: middle - wide / 2, y: at.y + 0.06, width: wide, height: 0.34, rx: 0.06 }), letters);
  }
  about();
}

function leave() {
  for (const svg of drawings()) svg.querySelectorAll(GHOST).forEach((one) => one.remove());
  if (trying) { trying = null; about(); }
}

async function keep(cut) {
  const [number, start, near] = trying.place;
  if (number === cut.piece && Math.abs(start - cut.start) < 1e-6) { leave(); return; }
  trying = null;
  tell(await wire.ask({ do: "wish", path: cut.path, panel: cut.panel, cut: cut.cut, piece: number, near }));
}

function grab(event, cut) {
  if (event.button || !event.isPrimary) return;
  const { svg } = found(cut.id), figure = svg.closest("figure"), rect = event.target;
  const at = (one) => new DOMPoint(one.clientX, one.clientY).matrixTransform(svg.getScreenCTM().inverse());
  const begun = at(event);
  let moved = false;
  event.stopPropagation();
  choose(cut.id);
  const move = (one) => {
    const now = at(one);
    moved ||= Math.hypot(now.x - begun.x, now.y - begun.y) > SLIP;
    if (!moved || !cut.places.length) return;
    figure.classList.add("dragging");
    tried(cut, nearest(cut, now, begun), true);
  };
  const end = (one) => {
    for (const kind of ["pointermove", "pointerup", "pointercancel"]) rect.removeEventListener(kind, kinds[kind]);
    figure.classList.remove("dragging");
    if (one.type === "pointerup" && moved && trying) keep(cut); else leave();
  };
  const kinds = { pointermove: move, pointerup: end, pointercancel: end };
  rect.setPointerCapture(event.pointerId);
  for (const [kind, does] of Object.entries(kinds)) rect.addEventListener(kind, does);
}

// The place of the cut that is nearest to where it is dragged: on the tier under the pointer.
function nearest(cut, now, begun) {
  const { tiers } = found(cut.id).all;
  const off = (tier, y) => Math.max(tier.upper - y, 0, y - tier.lower);
  const under = (y) => tiers.reduce((best, one) => (off(one, y) < off(best, y) ? one : best));
  const from = under(begun.y), tier = under(now.y);
  const wanted = tier.from + (now.x - tier.left) / tier.scale - (from.from + (begun.x - from.left) / from.scale - cut.start);
  const there = cut.places.filter((one) => one[0] === tier.piece);
  return (there.length ? there : cut.places).reduce((best, one) => (Math.abs(one[1] - wanted) < Math.abs(best[1] - wanted) ? one : best));
}
