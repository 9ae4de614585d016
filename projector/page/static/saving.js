// Saving, undo and redo by button and key; a name is asked for where there is none yet.

export function saving(wire, tell) {
  const dialog = document.getElementById("save"), name = document.getElementById("save-name");
  const words = document.getElementById("save-words"), naming = document.getElementById("save-naming");

  async function save(asked = {}) {
    const answer = await wire.ask({ do: "save", ...asked });
    if (answer.name) { name.value = answer.name; ask("It is kept in the folder of your jobs.", true, {}); }
    else if (answer.over) ask(asked.name ? `There is a file ${answer.over} already. Save over it?` : `${answer.over} was changed by another program since it was opened here. Save over it, or under another name?`, true, { over: true, name: asked.name ?? answer.over });
    else tell(answer);
  }

  function ask(said, named, more) {
    words.textContent = said;
    naming.hidden = !named;
    if (more.name) name.value = more.name;
    dialog.onclose = () => { if (dialog.returnValue === "save") save({ name: name.value, over: more.over && name.value === more.name }); };
    dialog.returnValue = "";
    dialog.showModal();
    name.select();
  }

  document.addEventListener("click", (event) => { if (event.target.closest('[data-do="save"]')) save(); });
  document.addEventListener("keydown", async (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || dialog.open) return;
    const what = { z: event.shiftKey ? "redo" : "undo", y: "redo", s: "save" }[event.key.toLowerCase()];
    if (!what) return;
    event.preventDefault();
    if (what === "save") save(); else tell(await wire.ask({ do: what }));
  });
}
