// Photographs of the lit table or cloth: each goes to the program as it is taken, lengths as they are typed.

export function lit(wire, tell) {
  const camera = document.getElementById("lit-camera");
  if (!camera) return;
  const place = document.querySelector("[data-view]").dataset.view;
  let sending = Promise.resolve();

  async function send(file) {
    tell({ say: "It is on its way." });
    tell(await fetch(`${place}/photograph?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file }).then((answer) => answer.json()).catch(() => ({ say: "The program did not answer. Try again.", bad: true })));
  }

  camera.addEventListener("change", () => {
    for (const file of camera.files) sending = sending.then(() => send(file));
    sending.then(() => { camera.value = ""; });
  });

  document.addEventListener("input", async (event) => {
    const field = event.target, path = field.dataset.path;
    if (!path?.startsWith("tape/")) return;
    const answer = await wire.type(path, field.value, field.getAttribute("value") ?? "");
    if (answer && !answer.say) field.setAttribute("value", answer.typed);
    tell(answer);
  });

  document.addEventListener("click", async (event) => {
    const shot = event.target.closest("[data-point]");
    if (shot) {
      const box = shot.getBoundingClientRect();
      tell(await wire.ask({ do: "point", x: (event.clientX - box.left) / box.width, y: (event.clientY - box.top) / box.height }));
    }
    const button = event.target.closest("[data-lit]"), from = event.target.closest("[data-shoot]");
    if (button) tell(await wire.ask({ do: button.dataset.lit, of: button.dataset.of }));
    if (from) {
      const held = new FormData(document.getElementById("virtual") ?? undefined);
      tell(await wire.ask({ do: "shoot", side: Number(from.dataset.shoot), high: held.get("high") === "1", upright: held.get("upright") === "1" }));
    }
  });
}
