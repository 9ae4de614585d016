// The light on the page: presses go to it with the place they were meant for; keys do what they do at the table.

const KEYS = { " ": "next stop", PageDown: "next stop", PageUp: "previous stop", Backspace: "previous stop", Enter: "cut done", u: "undo", y: "pulled", ".": "dark", b: "dark" };
const ARROWS = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "away", ArrowDown: "nearer" };

export function light(wire, tell) {
  const press = async (action, seen) => tell(await wire.ask({ do: "press", action, seen }));
  const step = () => document.querySelector('[name="step"]:checked')?.value ?? "";
  const moved = (action, size) => (size ? action.replace("light ", `light ${size} `) : action);

  document.addEventListener("click", (event) => {
    const button = event.target.closest('[data-do="press"]');
    if (button) press("move" in button.dataset ? moved(button.dataset.action, step()) : button.dataset.action, button.dataset.seen);
    if (event.target.id === "seen") {
      const box = event.target.getBoundingClientRect(), image = event.target;
      const x = (event.clientX - box.left) / box.width * image.naturalWidth, y = (event.clientY - box.top) / box.height * image.naturalHeight;
      press(`click ${Math.round(x)} ${Math.round(y)}`, document.getElementById("seen").dataset.number);
    }
  });

  document.addEventListener("click", async (event) => {
    const button = event.target.closest("[data-phone]");
    if (!button) return;
    const answer = await fetch("/phone", { method: "POST", body: JSON.stringify({ do: button.dataset.phone, number: Number(button.dataset.number) }) });
    if (answer.ok) document.getElementById("phones").innerHTML = (await answer.json()).html;
  });

  document.getElementById("camera")?.addEventListener("change", async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    tell({ say: "It is on its way." });
    tell(await fetch(`/photo?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file }).then((answer) => answer.json()).catch(() => ({ say: "The program did not answer. Try again.", bad: true })));
    event.target.value = "";
  });

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey && !ARROWS[event.key] || event.altKey || event.metaKey || event.target.closest("input, select, textarea, dialog, summary, a, button, [data-zoom]")) return;
    const way = ARROWS[event.key];
    const action = way ? moved(`light ${way}`, event.shiftKey ? "far" : event.ctrlKey ? "hair" : "") : KEYS[event.key];
    if (!action || !document.querySelector(".presses")) return;
    event.preventDefault();
    press(action, way || action === "dark" ? undefined : document.querySelector("#presses [data-seen]")?.dataset.seen);
  });

  document.addEventListener("submit", async (event) => {
    event.preventDefault();
    const form = event.target;
    if (form.id === "typing") {
      const field = form.querySelector("#typed");
      for (const letter of field.value.trim()) await wire.ask({ do: "press", action: `type ${letter}` });
      await wire.ask({ do: "press", action: "enter" });
      field.value = "";
    } else if (form.dataset.start) {
      const wrong = document.getElementById("start-wrong"), body = new URLSearchParams(new FormData(form));
      body.set("work", event.submitter.value);
      wrong.textContent = "";
      event.submitter.disabled = true;
      try {
        const said = await (await fetch(form.dataset.start, { method: "POST", body })).json();
        wrong.textContent = said.wrong ?? "";
        if (said.say) tell(said);
        if (said.go) location.href = said.go;
      } catch { wrong.textContent = "The program did not answer. Try again."; }
      finally { event.submitter.disabled = false; }
    }
  });
}

// The simulated table is looked at again after each change of the light.
let looking = false, again = false;
export async function look() {
  const image = document.getElementById("seen");
  if (!image) return;
  if (looking) { again = true; return; }
  looking = true;
  try {
    const answer = await fetch(`${document.querySelector("[data-view]").dataset.view}/view.jpg`);
    if (answer.ok) {
      const url = URL.createObjectURL(await answer.blob());
      image.onload = () => URL.revokeObjectURL(url);
      image.src = url;
    }
  } catch { /* it is looked at again after the next change */ }
  looking = false;
  if (again) { again = false; look(); }
}

// What is known of each calibration comes when it is worked out.
export async function calibrations() {
  for (const box of document.querySelectorAll("[data-about-table]:not([data-shown])")) {
    const name = box.dataset.aboutTable;
    box.dataset.shown = "";
    const look = await fetch(`/table/look/${encodeURIComponent(name)}`).then((answer) => answer.json()).catch(() => null);
    if (look) box.replaceChildren(...about(name, look));
  }
}

function about(name, { svg, lines, marks }) {
  const parts = [], make = (kind, more, ...inside) => { const one = Object.assign(document.createElement(kind), more); one.append(...inside); return one; };
  if (svg) {
    const figure = make("figure", { className: "picture" });
    figure.dataset.zoom = `error-${name}`;
    figure.innerHTML = svg.slice(svg.indexOf("<svg"));
    parts.push(figure);
  }
  const words = make("div", { className: "about" }, ...lines.map((line) => make("p", { textContent: line })));
  if (marks.length) words.append(make("details", {}, make("summary", { textContent: `The ${marks.length} marks` }), ...marks.map((line) => make("p", { className: "quiet", textContent: line }))));
  return [...parts, words];
}
