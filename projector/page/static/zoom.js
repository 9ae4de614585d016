// Pictures looked at closely: wheel, drag, pinch, buttons and keys move the window through which an SVG is seen.

const MOST = 24;
const seen = new Map();   // name of the picture -> {zoom, x, y}: kept when the picture is drawn anew

export function pictures(root = document) {
  for (const figure of root.querySelectorAll("[data-zoom]")) ready(figure);
}

function ready(figure) {
  for (const svg of drawings(figure)) {
    if (svg.dataset.base) continue;
    svg.dataset.base = svg.getAttribute("viewBox");
    svg.removeAttribute("width"); svg.removeAttribute("height");
    svg.setAttribute("role", "img");
    const title = svg.querySelector("title");
    if (title) { svg.setAttribute("aria-label", title.textContent); title.remove(); }
  }
  if (figure.dataset.ready !== "yes") {
    figure.dataset.ready = "yes";
    figure.tabIndex = 0;
    figure.setAttribute("aria-label", "Picture. Plus and minus zoom, arrow keys move it, 0 shows all of it.");
    figure.setAttribute("role", "group");
    listen(figure);
    figure.append(bar(figure));
  }
  show(figure);
}

// One drawing, or one below the other where there are several: all are seen through the same window.
const drawings = (figure) => figure.querySelectorAll(":scope > svg");

function state(figure) {
  const name = figure.dataset.zoom;
  if (!seen.has(name)) seen.set(name, { zoom: 1, x: 0.5, y: 0.5 });
  return seen.get(name);
}

function show(figure) {
  const at = state(figure);
  at.zoom = Math.min(MOST, Math.max(1, at.zoom));
  const half = 0.5 / at.zoom;
  at.x = Math.min(1 - half, Math.max(half, at.x));
  at.y = Math.min(1 - half, Math.max(half, at.y));
  for (const svg of drawings(figure)) {
    const [left, top, wide, high] = svg.dataset.base.split(" ").map(Number);
    svg.setAttribute("viewBox", `${left + (at.x - half) * wide} ${top + (at.y - half) * high} ${wide / at.zoom} ${high / at.zoom}`);
  }
  figure.classList.toggle("zoomed", at.zoom > 1.01);
}

function zoomAt(figure, factor, px, py) {
  const at = state(figure), before = at.zoom;
  at.zoom = Math.min(MOST, Math.max(1, at.zoom * factor));
  const move = (1 / before - 1 / at.zoom);
  at.x += (px - 0.5) * move;
  at.y += (py - 0.5) * move;
  show(figure);
}

function listen(figure) {
  const place = (event) => {
    const box = figure.getBoundingClientRect();
    return [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
  };
  figure.addEventListener("wheel", (event) => {
    if (state(figure).zoom <= 1 && event.deltaY > 0 && !event.ctrlKey) return;
    event.preventDefault();
    zoomAt(figure, Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016)), ...place(event));
  }, { passive: false });
  const fingers = new Map();
  figure.addEventListener("pointerdown", (event) => {
    if (event.target.closest("button")) return;
    fingers.set(event.pointerId, place(event));
    if (state(figure).zoom > 1.01 || fingers.size > 1) figure.setPointerCapture(event.pointerId);
  });
  figure.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = place(event), at = state(figure);
    if (fingers.size === 2) {
      const other = [...fingers].find(([id]) => id !== event.pointerId)[1];
      const apart = (one) => Math.hypot(one[0] - other[0], one[1] - other[1]) || 1e-6;
      zoomAt(figure, apart(now) / apart(before), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
    } else if (at.zoom > 1.01) {
      at.x -= (now[0] - before[0]) / at.zoom;
      at.y -= (now[1] - before[1]) / at.zoom;
      show(figure);
    }
    fingers.set(event.pointerId, now);
  });
  for (const kind of ["pointerup", "pointercancel"]) figure.addEventListener(kind, (event) => fingers.delete(event.pointerId));
  figure.addEventListener("dblclick", () => whole(figure));
  figure.addEventListener("keydown", (event) => {
    const at = state(figure), step = 0.15 / at.zoom;
    const done = { "+": () => zoomAt(figure, 1.4, 0.5, 0.5), "=": () => zoomAt(figure, 1.4, 0.5, 0.5), "-": () => zoomAt(figure, 1 / 1.4, 0.5, 0.5), 0: () => whole(figure),
      ArrowLeft: () => { at.x -= step; }, ArrowRight: () => { at.x += step; }, ArrowUp: () => { at.y -= step; }, ArrowDown: () => { at.y += step; } }[event.key];
    if (!done || event.ctrlKey || event.altKey || event.metaKey || event.target !== figure) return;
    event.preventDefault();
    done();
    show(figure);
  });
}

function whole(figure) { seen.set(figure.dataset.zoom, { zoom: 1, x: 0.5, y: 0.5 }); show(figure); }

function bar(figure) {
  const made = Object.assign(document.createElement("div"), { className: "zooming" });
  for (const [sign, words, done] of [["+", "Closer", () => zoomAt(figure, 1.5, 0.5, 0.5)], ["\u2212", "Farther", () => zoomAt(figure, 1 / 1.5, 0.5, 0.5)], ["\u2922", "All of it", () => whole(figure)]]) {
    const button = Object.assign(document.createElement("button"), { textContent: sign, type: "button", title: words });
    button.setAttribute("aria-label", words);
    button.onclick = done;
    made.append(button);
  }
  return made;
}
