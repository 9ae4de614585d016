// The links to papers follow the table and the stop that are chosen.

export function papers() {
  const follow = () => {
    const table = document.querySelector("[data-papers]")?.value ?? "";
    for (const link of document.querySelectorAll("[data-paper]")) {
      const url = new URL(link.href), stop = document.querySelector(`[data-stop="${link.dataset.paper}"]`)?.value;
      if (table) url.searchParams.set("table", table); else url.searchParams.delete("table");
      if (stop) url.searchParams.set("stop", stop);
      link.href = url;
    }
  };
  document.addEventListener("input", follow);
  follow();
}
