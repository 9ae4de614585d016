// One connection to the program: what is asked goes out in order, is kept until it is answered, and goes out again
// after the network was lost; the program does each thing once.

const FIRST_WAIT_MS = 250, LONGEST_WAIT_MS = 3000, SAY_AFTER_MS = 1200;

export class Wire {
  constructor(at, hear, net) {
    this.at = at; this.hear = hear; this.net = net;
    this.page = [...crypto.getRandomValues(new Uint8Array(9))].map((b) => b.toString(36)).join("").slice(0, 16);
    this.number = 0;
    this.kept = new Map();      // number -> {message, done}
    this.typing = new Map();    // path -> {number, next}: a value under way, and the one typed since
    this.wait = FIRST_WAIT_MS;
    this.connect();
    addEventListener("beforeunload", (event) => { if (this.kept.size) event.preventDefault(); });
    document.addEventListener("visibilitychange", () => { if (!document.hidden && !this.open) this.connect(); });
  }

  get open() { return this.socket && this.socket.readyState === WebSocket.OPEN; }

  connect() {
    clearTimeout(this.again);
    if (this.socket && this.socket.readyState < WebSocket.CLOSING) return;
    const socket = this.socket = new WebSocket(`ws://${location.host}/live?at=${encodeURIComponent(this.at)}`);
    socket.onopen = () => {
      this.wait = FIRST_WAIT_MS;
      clearTimeout(this.saying);
      this.net("");
      socket.send(JSON.stringify({ page: this.page }));
      for (const { message } of this.kept.values()) socket.send(JSON.stringify(message));
    };
    socket.onmessage = (event) => this.take(JSON.parse(event.data));
    socket.onclose = ({ code }) => {
      if (socket !== this.socket) return;
      if (code === 1008) this.net("The program was started anew. Open this again from the list of jobs.");
      this.saying ??= setTimeout(() => { if (!this.open) this.net("Not connected. What you do is kept here and sent as soon as the program answers."); this.saying = undefined; }, SAY_AFTER_MS);
      this.again = setTimeout(() => this.connect(), this.wait);
      this.wait = Math.min(LONGEST_WAIT_MS, this.wait * 2);
    };
  }

  // Ask for something; gives the answer.
  ask(message) {
    const number = ++this.number;
    const whole = { n: number, ...message };
    return new Promise((done) => {
      this.kept.set(number, { message: whole, done });
      if (this.open) this.socket.send(JSON.stringify(whole));
    });
  }

  // A value was typed. One is under way for each field at a time: what is typed meanwhile follows as a whole.
  async type(path, value, saw) {
    const under = this.typing.get(path);
    if (under) { under.next = value; return undefined; }
    const entry = { next: undefined };
    this.typing.set(path, entry);
    let answer = await this.ask({ do: "type", path, value, saw });
    while (entry.next !== undefined && !("clash" in answer)) {
      const next = entry.next;
      entry.next = undefined;
      answer = await this.ask({ do: "type", path, value: next, saw: value });
      value = next;
    }
    this.typing.delete(path);
    return { ...answer, typed: value };
  }

  // Whether what was typed into this field has not been answered yet.
  pending(path) { return this.typing.has(path); }

  take(message) {
    if ("ack" in message) {
      const kept = this.kept.get(message.ack);
      this.kept.delete(message.ack);
      if (kept) kept.done(message);
    }
    if (message.parts || !("ack" in message)) this.hear(message);
  }
}
