// Tabs with arrow keys, as the ARIA authoring practices describe them.

export function tabs() {
  for (const list of document.querySelectorAll('[role="tablist"]')) {
    const all = [...list.querySelectorAll('[role="tab"]')];
    const choose = (tab, focus) => {
      for (const one of all) {
        const on = one === tab;
        one.setAttribute("aria-selected", on);
        one.tabIndex = on ? 0 : -1;
        document.getElementById(one.getAttribute("aria-controls")).hidden = !on;
      }
      if (focus) tab.focus();
    };
    list.addEventListener("click", (event) => { const tab = event.target.closest('[role="tab"]'); if (tab) choose(tab); });
    list.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (by) choose(all[(all.indexOf(document.activeElement) + by + all.length) % all.length], true);
    });
  }
}
