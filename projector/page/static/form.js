// The form of a job: what is typed and chosen goes to the program at once, what it answers is shown beside it.

export function form(wire, tell) {
  const root = document.getElementById("form");
  // What the file held for a field when the person changed it: the value of a choice is the answer, not what was there.
  const saw = (element) => (element.type === "text" ? element.getAttribute("value") : element.closest("[data-told]")?.dataset.told) ?? "";

  async function type(element, value) {
    const path = element.dataset.path;
    const answer = await wire.type(path, value, saw(element));
    if (answer && "clash" in answer) clash(path, answer.clash, value);
    else if (answer && element.type === "text" && !answer.say) element.setAttribute("value", answer.typed);
    if (!answer) return;
    tell(answer);
  }

  document.addEventListener("input", (event) => {
    const element = event.target;
    if (element.dataset.colour) {
      const field = document.getElementById(element.dataset.colour);
      field.value = element.value;
      type(field, field.value);
      return;
    }
    if (!element.dataset.path || element.dataset.switch) return;
    if (element.dataset.several !== undefined) {
      const all = [...root.querySelectorAll(`[name="${CSS.escape(element.name)}"]`)];
      type(element, all.filter((one) => one.checked).map((one) => one.value).join(", "));
    } else type(element, element.value);
  });

  document.addEventListener("change", async (event) => {
    const element = event.target;
    if (element.dataset.switch) tell(await wire.ask({ do: "switch", path: element.dataset.path, name: element.dataset.switch, value: element.value }));
    if (element.dataset.look !== undefined) wire.ask({ do: "look", value: element.value });
  });

  document.addEventListener("focusout", (event) => {
    if (event.target.dataset?.path && event.target.type === "text") wire.ask({ do: "leave" });
  });

  document.addEventListener("focusin", (event) => {
    const item = event.target.closest?.("details.item");
    const path = event.target.dataset?.path ?? item?.querySelector("[data-path]")?.dataset.path ?? "";
    const window = /^windows\/(\d+)/.exec(path);
    if (window && shownWindow !== window[1]) { shownWindow = window[1]; wire.ask({ do: "look", value: window[1] }); }
  });
  let shownWindow = "0";

  document.addEventListener("click", async (event) => {
    const link = event.target.closest("[data-field]");
    if (link) { event.preventDefault(); lead(document.getElementById(link.dataset.field)); return; }
    const button = event.target.closest("button[data-do]");
    if (!button || button.dataset.do === "save" || button.dataset.do === "press") return;
    const { do: what, of: path, value } = button.dataset;
    const answer = await wire.ask({ do: what, path, value });
    tell(answer);
    if (answer.focus) lead(document.querySelector(`[data-path="${CSS.escape(answer.focus)}"]`));
  });

  // Another page has changed the field that is typed in here: both texts are kept until the person chooses.
  function clash(path, theirs, mine) {
    const note = document.querySelector(`[data-clash="${CSS.escape(path)}"]`), field = document.querySelector(`[data-path="${CSS.escape(path)}"]`);
    if (!note || !field) return;
    if (field.type !== "text") chosen(path, theirs);
    note.replaceChildren(`Another page wrote \u201c${theirs}\u201d here. `);
    const choice = (words, done) => {
      const button = Object.assign(document.createElement("button"), { textContent: words, type: "button" });
      button.onclick = () => { note.hidden = true; done(); };
      note.append(button, " ");
    };
    if (field.type === "text") {
      choice("Take that", () => { field.value = theirs; field.setAttribute("value", theirs); });
      choice("Keep mine", () => { field.setAttribute("value", theirs); type(field, field.value); });
    } else {
      choice("Take that", () => {});
      choice("Keep mine", () => { field.closest("[data-told]").dataset.told = theirs; type(field, mine); });
    }
    note.hidden = false;
  }

  // Show the answer that the file holds.
  function chosen(path, value) {
    const controls = [...root.querySelectorAll(`[data-path="${CSS.escape(path)}"]`)], several = value.split(", ");
    for (const one of controls) if (one.nodeName === "SELECT") one.value = value; else one.checked = several.includes(one.value);
  }

  // What was typed before this script ran is sent now.
  for (const field of root.querySelectorAll("input[type=text][data-path]")) if (field.value !== saw(field)) type(field, field.value);
  for (const field of root.querySelectorAll("input[type=radio][data-path]:checked")) if (!field.defaultChecked) field.dispatchEvent(new Event(field.dataset.switch ? "change" : "input", { bubbles: true }));

  return { clash };
}

// Lead to a field: open what it lies in, bring it into view, put the cursor into it.
export function lead(element) {
  if (!element) return;
  for (let at = element.closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
  const target = element.matches("fieldset") ? element.querySelector("input:checked, input") ?? element : element;
  target.focus();
  if (target.select && target.type === "text") target.select();
  target.scrollIntoView({ block: "center", behavior: "instant" });
}
