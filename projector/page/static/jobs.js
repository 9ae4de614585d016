// The list of jobs: their pictures and how far they are cut come one after another, a file is brought in.

export function jobs(tell) {
  const boxes = [...document.querySelectorAll("[data-thumb]")];
  let waiting = [...boxes], busy = false;
  const all = async () => {
    if (busy) return;
    busy = true;
    for (let box; (box = waiting.shift());) {
      const answer = await fetch(box.dataset.thumb).catch(() => null);
      if (answer?.ok) show(box, await answer.json());
    }
    busy = false;
  };
  all();
  // What was cut meanwhile is seen when the list is looked at again.
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { waiting = [...boxes]; all(); } });
  document.querySelector("[data-bring]")?.addEventListener("change", async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    const answer = await fetch(`${event.target.dataset.bring}?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
    const said = await answer.json();
    if (said.go) location.href = said.go; else tell(said);
  });
}

function show(box, { svg, far }) {
  if (svg && svg !== drawn.get(box)) {
    drawn.set(box, svg);
    const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    box.replaceChildren(Object.assign(new Image(), { alt: "", src: address, onload: () => URL.revokeObjectURL(address) }));
  }
  const told = box.closest(".card").querySelector("[data-far]");
  if (told) told.innerHTML = far;
}

const drawn = new WeakMap();
