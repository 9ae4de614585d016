// A photograph brought in, places marked on it by click or by keys, what was found accepted.

export function photo(tell) {
  const place = document.querySelector("[data-photo]");
  if (!place) return;
  const at = place.dataset.photo, wrong = document.getElementById("photo-wrong"), work = document.getElementById("photo-work");
  let points = [], cross = [0.5, 0.5];

  const way = () => document.querySelector('#scale [name="way"]:checked');
  const asked = () => document.querySelector(`[data-way="${way().value}"]`);

  async function send(url, body, button) {
    wrong.textContent = "";
    place.setAttribute("aria-busy", "true");
    if (button) button.disabled = true;
    try {
      const answer = await fetch(url, { method: "POST", body });
      const said = await answer.json();
      wrong.textContent = said.wrong ?? "";
      if (said.html) show(said.html, url.endsWith("/measure"));
      if (said.go) location.href = said.go;
      return said;
    } catch { wrong.textContent = "The program did not answer. Try again."; return {}; }
    finally { place.removeAttribute("aria-busy"); if (button) button.disabled = false; }
  }

  // What was measured leaves the marks and what was typed as they are: one of them may have to be mended.
  function show(html, sameOne) {
    if (!sameOne) { work.innerHTML = html; points = []; draw(); return; }
    const made = document.createElement("template");
    made.innerHTML = html;
    work.querySelector(".found")?.remove();
    work.append(made.content.querySelector(".found"));
  }

  document.getElementById("photo").addEventListener("change", (event) => {
    const [file] = event.target.files;
    if (file) send(`${at}/photo?name=${encodeURIComponent(file.name)}`, file);
  });

  // A phone has brought another one in.
  document.addEventListener("photo", async () => {
    const answer = await fetch(`${at}/photo`);
    if (answer.ok) show((await answer.json()).html, false);
  });

  function mark(x, y) {
    if (points.length >= Number(way().dataset.clicks)) points = [];
    points.push([x, y]);
    draw();
  }

  function draw(keys = false) {
    const shot = document.getElementById("shot");
    if (!shot) return;
    shot.querySelectorAll("svg").forEach((one) => one.remove());
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    svg.setAttribute("viewBox", "0 0 1000 1000"); svg.setAttribute("preserveAspectRatio", "none"); svg.setAttribute("aria-hidden", "true");
    const line = (d, kind) => { const path = document.createElementNS(svg.namespaceURI, "path"); path.setAttribute("d", d); path.setAttribute("class", kind); svg.append(path); };
    points.forEach(([x, y]) => { for (const kind of ["under", "over"]) line(`M${x * 1000 - 12} ${y * 1000}h24M${x * 1000} ${y * 1000 - 12}v24`, kind); });
    if (keys) line(`M${cross[0] * 1000} 0V1000M0 ${cross[1] * 1000}H1000`, "cross");
    shot.append(svg);
    const clicks = Number(way().dataset.clicks);
    document.getElementById("clicked").textContent = points.length ? `${points.length} of ${clicks} places marked.` : `Mark ${clicks} places in the picture${asked().dataset.way === "width" ? ", if the edges are not found" : ""}.`;
  }

  work.addEventListener("click", (event) => {
    const image = event.target.closest("#shot");
    if (image) {
      const box = image.getBoundingClientRect();
      mark((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
    }
    if (event.target.id === "again") { points = []; draw(); }
  });
  work.addEventListener("keydown", (event) => {
    if (event.target.id !== "shot") return;
    const step = event.shiftKey ? 0.05 : event.ctrlKey ? 0.0006 : 0.005;
    const move = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (move) cross = cross.map((one, number) => Math.min(1, Math.max(0, one + move[number])));
    else if (event.key === "Enter") mark(...cross);
    else if (event.key === "Delete" || event.key === "Backspace") points.pop();
    else return;
    event.preventDefault();
    draw(true);
  });
  work.addEventListener("change", (event) => {
    if (event.target.name !== "way") return;
    for (const one of work.querySelectorAll("[data-way]")) one.hidden = one.dataset.way !== event.target.value;
    points = [];
    draw();
  });
  work.addEventListener("submit", (event) => {
    event.preventDefault();
    const button = event.target.querySelector("button.main");
    if (event.target.id === "scale") {
      const image = document.querySelector("#shot img");
      const places = points.map(([x, y]) => [x * image.naturalWidth - 0.5, y * image.naturalHeight - 0.5]);
      const typed = [...asked().querySelectorAll("input")].map((one) => one.value);
      wrong.textContent = "";
      send(`${at}/measure`, JSON.stringify({ way: way().value, places, typed }), button).then((said) => { if (!said.wrong) document.getElementById("h-found")?.scrollIntoView({ block: "start" }); });
    } else if (event.target.id === "answers") {
      const form = new FormData(event.target);
      send(`${at}/take`, JSON.stringify({ answer: Number(form.get("answer")), picture: form.has("picture") }), button);
    }
  });
  draw();
}
