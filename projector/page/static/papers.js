// The links to papers, and what is seen of them, follow the cloth, the table and the stop that are chosen.

export function papers() {
  const follow = () => {
    const table = document.querySelector("[data-papers]")?.value ?? "", cloth = document.querySelector("[data-cloth]")?.value;
    for (const seen of cloth ? document.querySelectorAll(".papers img") : []) {
      const url = new URL(seen.src);
      url.searchParams.set("cloth", cloth);
      if (seen.src !== url.href) seen.src = url;
    }
    for (const link of document.querySelectorAll("[data-paper]")) {
      const url = new URL(link.href), stop = document.querySelector(`[data-stop="${link.dataset.paper}"]`)?.value;
      if (table) url.searchParams.set("table", table); else url.searchParams.delete("table");
      if (cloth) url.searchParams.set("cloth", cloth);
      if (stop) url.searchParams.set("stop", stop);
      link.href = url;
    }
  };
  // A picture that cannot be made stands there in words: why, is said where it is looked at.
  for (const seen of document.querySelectorAll(".papers img")) {
    const words = Object.assign(document.createElement("p"), { className: "none", textContent: "It cannot be drawn of the job as it is. Look at it to read why." });
    seen.onload = () => { words.remove(); seen.hidden = false; };
    seen.onerror = () => { seen.hidden = true; seen.after(words); };
    if (seen.complete && seen.currentSrc && !seen.naturalWidth) seen.onerror();
  }
  document.addEventListener("input", follow);
  follow();
}
