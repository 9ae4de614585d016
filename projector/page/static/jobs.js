// The list of jobs: their pictures come one after another, a file is brought in.

export function jobs(tell) {
  const waiting = [...document.querySelectorAll("[data-thumb]")];
  const next = async () => {
    const box = waiting.shift();
    if (!box) return;
    const answer = await fetch(box.dataset.thumb);
    if (answer.ok) {
      const image = Object.assign(new Image(), { alt: "", src: URL.createObjectURL(await answer.blob()) });
      box.replaceChildren(image);
    }
    next();
  };
  next();
  document.querySelector("[data-bring]")?.addEventListener("change", async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    const answer = await fetch(`${event.target.dataset.bring}?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
    const said = await answer.json();
    if (said.go) location.href = said.go; else tell(said);
  });
}
