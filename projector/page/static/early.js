// What is pressed or typed before the other scripts have come is kept and done once they are there: a form sent by
// the browser itself would load the page anew, and a button would do nothing.

(() => {
  const kept = [];
  const keep = (event) => {
    const form = event.type === "submit";
    const sends = event.target.closest?.("form button:not([type=button]), form input[type=submit]");
    if (event.type === "click" && (sends || !event.target.closest?.("button"))) return;
    if (event.type === "click" || form) {
      event.preventDefault();
      event.stopPropagation();
    }
    kept.push({ type: event.type, target: event.target, submitter: event.submitter ?? null });
  };
  const types = ["click", "submit", "input", "change"];
  for (const type of types) document.addEventListener(type, keep, true);

  window.scriptsHaveCome = () => {
    for (const type of types) document.removeEventListener(type, keep, true);
    for (const { type, target, submitter } of kept) {
      if (!target.isConnected) continue;
      if (type === "click") target.click();
      else if (type === "submit") target.requestSubmit(submitter);
      else target.dispatchEvent(new Event(type, { bubbles: true }));
    }
  };
})();
