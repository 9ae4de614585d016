// New HTML put into the page in place: what is the same stays the same element, so that the cursor, what is being
// typed, what is opened and what is scrolled stay as they are. A field is never set while somebody types in it.

export class Morph {
  // `busy(path)`: whether what was typed in that field is still under way; `clash(path, theirs)`: another page has
  // changed the field in which the cursor is.
  constructor(busy, clash) { this.busy = busy; this.clash = clash; }

  put(element, html, force = false) {
    const held = document.createElement("template");
    held.innerHTML = html;
    this.force = force;
    this.children(element, held.content);
  }

  children(have, want) {
    const wanted = new Set([...want.children].map((one) => one.id).filter(Boolean));
    let at = have.firstChild;
    for (const next of [...want.childNodes]) {
      while (at && at.id && at.id !== next.id && !wanted.has(at.id)) at = this.gone(at);
      let match = null;
      if (next.id) match = [...have.children].find((one) => one.id === next.id) ?? null;
      else if (at && !at.id && at.nodeName === next.nodeName && this.alike(at, next)) match = at;
      if (!match) { have.insertBefore(next, at); continue; }
      if (match === at) at = at.nextSibling; else have.insertBefore(match, at);
      this.node(match, next);
    }
    while (at) at = this.gone(at);
  }

  gone(node) { const next = node.nextSibling; node.remove(); return next; }

  alike(one, other) {
    return one.nodeType !== Node.ELEMENT_NODE || (one.dataset?.path === other.dataset?.path && one.getAttribute("value") === other.getAttribute("value"))
      || (one.nodeName === "INPUT" && one.type !== "radio" && one.type !== "checkbox" && one.dataset.path === other.dataset.path);
  }

  node(have, want) {
    if (have.nodeType !== Node.ELEMENT_NODE) { if (have.data !== want.data) have.data = want.data; return; }
    if (have.nodeName === "svg") { if (have.outerHTML !== want.outerHTML) have.replaceWith(want); return; }
    if (have.dataset.part !== undefined) return;   // filled by a part of its own
    if (have.dataset.zoom) {   // a picture drawn anew is seen through the same window as before
      have.classList.toggle("old", want.classList.contains("old"));
      have.querySelector("svg").replaceWith(want.querySelector("svg"));
      return;
    }
    const kept = { DETAILS: ["open"], INPUT: ["value", "checked"], OPTION: ["selected"], P: have.dataset.clash ? ["hidden"] : [] }[have.nodeName] ?? [];
    for (const { name, value } of [...want.attributes]) if (!kept.includes(name) && have.getAttribute(name) !== value) have.setAttribute(name, value);
    for (const { name } of [...have.attributes]) if (!kept.includes(name) && !want.hasAttribute(name)) have.removeAttribute(name);
    if (have.nodeName === "INPUT") { this.input(have, want); return; }
    if (have.dataset.clash) return;
    if (have.nodeName === "SELECT") this.select(have, want); else this.children(have, want);
  }

  input(have, want) {
    const path = have.dataset.path;
    if (path && this.busy(path)) return;
    if (have.type === "radio" || have.type === "checkbox") {
      have.checked = want.hasAttribute("checked");
      return;
    }
    const theirs = want.getAttribute("value") ?? "", before = have.getAttribute("value") ?? "";
    if (have.type === "color") { have.value = theirs; return; }
    const mine = have.value;
    if (theirs !== before) have.setAttribute("value", theirs);
    if (same(theirs, mine)) { have.value = mine; return; }
    if (document.activeElement === have && !this.force) {
      have.value = mine;
      if (theirs !== before && path) this.clash(path, theirs);
      return;
    }
    have.value = theirs !== before || this.force ? theirs : mine;
  }

  select(have, want) {
    const path = have.dataset.path, chosen = have.value;
    const theirs = want.querySelector("option[selected]")?.value ?? (path === undefined ? want.value : "");
    this.children(have, want);   // which takes what is new out of `want`
    const still = [...have.options].some((one) => one.value === chosen);
    if ((path && this.busy(path)) || (path === undefined && still && have.dataset.look === undefined) || (document.activeElement === have && !this.force && still)) have.value = chosen;
    else have.value = theirs;
  }
}

// Whether two texts say the same to the program, which leaves blanks at the ends and around commas out.
export function same(one, other) { return plain(one) === plain(other); }

function plain(text) { return text.trim().replace(/\s*,\s*/g, ","); }
