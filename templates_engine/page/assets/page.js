// The page's own behaviour: it holds the job's text, sends it with each change, and puts the fragments that come
// back in their places. Nothing is kept on the server; until it is saved the text is kept in this browser.
"use strict";
const at = (id) => document.getElementById(id);
const KEPT = "marking-templates";
const MOST_UNDONE = 200;
const EMPTY = `job: New job
enclosure:
  kind: panelboard
  width: 20
  height: 36
  depth: 6
  back gap: 0
faces:
  - face: top
    mark from: outside
    rows:
      - strut: 1-5/8
        gap: 1-1/8
        snap: 1/16
        place: centred
        raceways:
          - {type: EMT, size: 1, count: 3}
print: {paper: letter}
`;

const state = { text: "", face: "", version: "", past: [], sending: false, waiting: [], zoom: 1, texts: [], readings: {}, overlay: "" };

// --- asking -------------------------------------------------------------------------------------------------------

async function ask(place, body) {
  const answer = await fetch(place, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
  return answer.json();
}

// Changes are sent one after the other, each upon the text that the one before it made; of plain redraws only the
// newest is sent.
function send(change = null, words = "") {
  if (!change) state.waiting = state.waiting.filter((one) => one.change);
  state.waiting.push({ change, words });
  if (!state.sending) next();
}

async function next() {
  const one = state.waiting.shift();
  document.querySelector("main").ariaBusy = String(Boolean(one));
  if (!one) return;
  state.sending = true;
  const before = state.text;
  try {
    const got = await ask("/draw", { text: before, change: one.change, face: state.face, name: at("name").value });
    if (got.fragments) show(got, before, one);
    else say(got.refused || "The page's program gave no answer.");
  } catch {
    say("The page's program does not answer. Start it again: nothing typed here is lost.");
  }
  state.sending = false;
  next();
}

function show(got, before, one) {
  const passing = one.change && one.change.passing;
  if (one.change && !passing && state.text === before && got.text !== before) {
    remember(before);
    setText(got.text);
  }
  say(got.refused || (one.words || ""));
  if (got.is_drawn && !passing) state.face = got.face;
  for (const [id, html] of Object.entries(got.fragments)) {
    if (passing && id === "form") continue;
    if (at(id)) Idiomorph.morph(at(id), html, { morphStyle: "innerHTML", ignoreActiveValue: true });
  }
  for (const id of ["drawing", "can", "holes", "findings", "faces"]) at(id).classList.toggle("stale", !got.is_drawn);
  if (!passing) {
    markLines(got.lines || {});
    cure(got);
    if (got.is_drawn) tape();
  }
  draw();
  document.body.dataset.drawn = String(1 + Number(document.body.dataset.drawn || 0));
}

let curing = 0;
function cure(got) {
  at("remedies").replaceChildren();
  if (!got.is_drawn || !at("findings").querySelector("h2")) return;
  const turn = ++curing;
  const text = got.text;
  clearTimeout(cure.timer);
  cure.timer = setTimeout(async () => {
    const found = await ask("/remedies", { text, name: at("name").value }).catch(() => ({}));
    if (turn !== curing || !found.fragments) return;
    state.texts = found.texts;
    Idiomorph.morph(at("remedies"), found.fragments.remedies || "", { morphStyle: "innerHTML" });
  }, 250);
}

// What the sheets cost, and what the readings of the taped ones say, comes after the drawing: typing waits for neither.
let taping = 0;
function tape() {
  const turn = ++taping;
  clearTimeout(tape.timer);
  tape.timer = setTimeout(async () => {
    const asked = { text: state.text, name: at("name").value, face: state.face, readings: state.readings[state.face] || {} };
    const got = await ask("/sheets", asked).catch(() => ({}));
    if (turn !== taping || !got.fragments) return;
    for (const [id, html] of Object.entries(got.fragments)) {
      Idiomorph.morph(at(id), html, { morphStyle: "innerHTML", ignoreActiveValue: true });
    }
    state.overlay = got.overlay;
    draw();
  }, 300);
}

// --- the text ------------------------------------------------------------------------------------------------------

function setText(text) {
  state.text = text;
  if (at("text").value !== text) at("text").value = text;
  keep();
}

function keep() {
  const kept = { text: state.text, name: at("name").value, version: state.version, face: state.face, readings: state.readings };
  try { localStorage.setItem(KEPT, JSON.stringify(kept)); } catch { /* a full or forbidden store: the tab still holds it */ }
}

function remember(text) {
  state.past.push(text);
  if (state.past.length > MOST_UNDONE) state.past.shift();
  at("undo").disabled = false;
}

function begin(text, name, version) {
  if (state.text) remember(state.text);
  state.version = version || "";
  state.face = "";
  state.readings = {};
  state.overlay = "";
  if (name) at("name").value = name;
  setText(text);
  send();
}

function markLines(lines) {
  const count = at("text").value.split("\n").length;
  const made = Array.from({ length: count }, (_, line) => {
    const item = document.createElement("li");
    item.textContent = String(line + 1);
    const wrong = lines[line + 1];
    if (wrong) { item.className = "bad"; item.title = wrong; }
    return item;
  });
  at("line-marks").replaceChildren(...made);
  at("line-marks").scrollTop = at("text").scrollTop;
}

function goToLine(line) {
  const box = at("text"), lines = box.value.split("\n");
  const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  at("text-part").open = true;
  box.focus();
  box.setSelectionRange(start, start + (lines[line - 1] || "").length);
  box.scrollTop = Math.max(0, (line - 6) * 20);
}

function say(words) { at("status").textContent = words; }

// --- the drawing ---------------------------------------------------------------------------------------------------

function draw() {
  const svg = at("drawing").querySelector("svg");
  if (!svg) return;
  svg.style.width = `${100 * state.zoom}%`;
  svg.querySelector(".sheets")?.remove();
  svg.insertAdjacentHTML("beforeend", state.overlay);
}

function zoom(by) {
  state.zoom = Math.min(12, Math.max(0.5, by ? state.zoom * by : 1));
  draw();
}

function point(ids) {
  for (const one of document.querySelectorAll(".pointed")) one.classList.remove("pointed");
  for (const id of ids) {
    for (const one of document.querySelectorAll(`[data-hole="${CSS.escape(id)}"]`)) one.classList.add("pointed");
  }
}

// A length on the tape as one types it: a fraction of an inch, or whole millimetres.
function typed(inches, svg) {
  if (svg.dataset.unit === "mm") return `${Math.round(inches * 25.4)} mm`;
  const parts = Math.round(1 / Number(svg.dataset.step));
  let count = Math.round(inches * parts), under = parts;
  const whole = Math.floor(count / under);
  count -= whole * under;
  while (count && count % 2 === 0) { count /= 2; under /= 2; }
  return [whole || !count ? whole : "", count ? `${count}/${under}` : ""].filter((part) => part !== "").join("-") + " in";
}

function pin(hole, u, passing) {
  const svg = hole.ownerSVGElement;
  const at_ = typed(Math.max(0, u), svg);
  const edge = svg.dataset.startLeft === "1" ? "left" : "right";
  at("dragged").textContent = `${hole.dataset.hole}: ${at_} from the ${edge} as drawn`;
  send({ do: "pin", entry: hole.dataset.entry, nth: Number(hole.dataset.nth), at: at_, passing });
}

const uOf = (svg, x) => (svg.dataset.startLeft === "1" ? x : Number(svg.dataset.faceWidth) - x);

let drag = null;
at("drawing").addEventListener("pointerdown", (event) => {
  const hole = event.target.closest(".hole");
  if (!hole || event.button) return;
  drag = { id: hole.dataset.hole, from: event.clientX, x: Number(hole.dataset.x), moved: false };
  at("drawing").setPointerCapture(event.pointerId);
});
at("drawing").addEventListener("pointermove", (event) => {
  if (!drag) return;
  const svg = at("drawing").querySelector("svg"), hole = at(`hole-${drag.id}`);
  if (!svg || !hole) return;
  const by = ((event.clientX - drag.from) * Number(svg.dataset.width)) / svg.getBoundingClientRect().width;
  if (!drag.moved && Math.abs(event.clientX - drag.from) < 4) return;
  drag.moved = true;
  drag.u = uOf(svg, drag.x + by);
  hole.classList.add("moving");
  if (!state.sending) pin(hole, drag.u, true);
});
for (const kind of ["pointerup", "pointercancel"]) {
  at("drawing").addEventListener(kind, () => {
    const hole = drag && at(`hole-${drag.id}`);
    if (drag && drag.moved && hole && kind === "pointerup") pin(hole, drag.u, false);
    else if (drag && drag.moved) send();
    drag = null;
  });
}
at("drawing").addEventListener("keydown", (event) => {
  const hole = event.target.closest(".hole");
  const turn = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (!hole || !turn) return;
  event.preventDefault();
  const svg = hole.ownerSVGElement, step = Number(svg.dataset.step) * (event.shiftKey ? 16 : 1);
  pin(hole, uOf(svg, Number(hole.dataset.x) + turn * step), false);
});
at("drawing").addEventListener("pointerover", (event) => {
  const hole = event.target.closest(".hole");
  point(hole ? [hole.dataset.hole] : []);
});

// --- what is pressed and typed -------------------------------------------------------------------------------------

let typing = 0;
at("text").addEventListener("input", () => {
  if (!typing) remember(state.text);
  clearTimeout(typing);
  typing = setTimeout(() => { typing = 0; }, 1500);
  state.text = at("text").value;
  keep();
  send();
});
at("text").addEventListener("scroll", () => { at("line-marks").scrollTop = at("text").scrollTop; });

at("form").addEventListener("submit", (event) => event.preventDefault());
at("form").addEventListener("input", (event) => {
  const field = event.target;
  if (field.dataset.path) send({ do: "set", path: JSON.parse(field.dataset.path), value: field.value });
  if (field.dataset.place && field.value) send({ do: "place", path: JSON.parse(field.dataset.place), value: field.value });
});

document.addEventListener("click", (event) => {
  const pressed = event.target.closest("button");
  if (!pressed) return;
  if (pressed.dataset.change) send(JSON.parse(pressed.dataset.change));
  if (pressed.dataset.face !== undefined) { state.face = pressed.dataset.face; keep(); send(); }
  if (pressed.dataset.line) goToLine(Number(pressed.dataset.line));
  if (pressed.dataset.remedy) {
    const text = state.texts[Number(pressed.dataset.remedy)];
    if (text) { remember(state.text); setText(text); send(null, "The remedy is taken; Undo takes it back."); }
  }
});
for (const kind of ["pointerover", "focusin"]) {
  at("findings").addEventListener(kind, (event) => {
    const finding = event.target.closest("[data-holes]");
    point(finding ? finding.dataset.holes.split(" ") : []);
  });
}
at("holes").addEventListener("pointerover", (event) => {
  const row = event.target.closest("[data-hole]");
  point(row ? [row.dataset.hole] : []);
});

at("undo").addEventListener("click", () => {
  const text = state.past.pop();
  at("undo").disabled = !state.past.length;
  if (text !== undefined) { setText(text); send(); }
});
at("larger").addEventListener("click", () => zoom(1.4));
at("smaller").addEventListener("click", () => zoom(1 / 1.4));
at("whole").addEventListener("click", () => zoom(0));

at("samples").addEventListener("change", async (event) => {
  const name = event.target.value;
  event.target.value = "";
  if (name === "/") begin(EMPTY, "job.yaml", "");
  else if (name) begin((await ask("/sample", { name })).text, `${name.replaceAll(" ", "_")}.yaml`, "");
});
if (at("jobs")) {
  at("jobs").addEventListener("change", async (event) => {
    if (!event.target.value) return;
    const got = await ask("/open", { name: event.target.value });
    if (got.refused) say(got.refused);
    else begin(got.text, got.name, got.version);
  });
  at("save").addEventListener("click", async () => {
    const got = await ask("/save", { name: at("name").value, text: state.text, version: state.version });
    if (got.refused) { say(got.refused); return; }
    state.version = got.version;
    keep();
    say(`Saved as ${got.name}.`);
    const { names } = await ask("/jobs", {});
    at("jobs").replaceChildren(new Option("choose a job", ""), ...names.map((name) => new Option(name)));
    at("jobs").value = got.name;
  });
}
if (at("from-disk")) {
  at("from-disk").addEventListener("change", async (event) => {
    const file = event.target.files[0];
    if (file) begin(await file.text(), file.name, "");
    event.target.value = "";
  });
}
at("name").addEventListener("input", () => { state.version = ""; keep(); });

function download(name, data, kind) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([data], { type: kind }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
at("keep").addEventListener("click", () => download(at("name").value || "job.yaml", state.text, "application/yaml"));

async function make(place, asked, into) {
  into.textContent = "Drawing and reading back ...";
  const got = await ask(place, asked).catch(() => ({ problems: ["The page's program does not answer."] }));
  const lines = (got.files || []).map((file) => {
    const data = Uint8Array.from(atob(file.pdf), (char) => char.charCodeAt(0));
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([data], { type: "application/pdf" }));
    link.target = "_blank";
    link.download = file.name;
    link.textContent = `${file.name}, ${file.pages} ${file.pages === 1 ? "page" : "pages"}`;
    const line = document.createElement("p");
    line.append(link, ": print at actual size (100 %), one side only, on the paper its first page names.");
    return line;
  });
  const wrong = [...(got.problems || []), ...(got.refused ? [got.refused] : [])].map((words) => {
    const line = document.createElement("p");
    line.textContent = words;
    return line;
  });
  into.replaceChildren(...lines, ...wrong);
}
at("pdf").addEventListener("click", () =>
  make("/pdf", { text: state.text, name: at("name").value, draft: at("draft").checked }, at("made")));

// --- the taped sheets and the printers -------------------------------------------------------------------------------

at("taped").addEventListener("input", (event) => {
  const name = event.target.dataset.reading;
  if (!name) return;
  const here = (state.readings[state.face] ||= {});
  if (event.target.value.trim()) here[name] = event.target.value;
  else delete here[name];
  keep();
  tape();
});
at("taped").addEventListener("click", (event) => {
  const pressed = event.target.closest("button");
  if (!pressed) return;
  if (pressed.id === "no-readings") { delete state.readings[state.face]; keep(); tape(); }
  if (pressed.id === "take-correction") {
    at("printers-part").open = true;
    at("p-across").value = pressed.dataset.across;
    at("p-down").value = pressed.dataset.down;
    at("p-name").focus();
  }
});

async function listPrinters(got) {
  const found = got || (await ask("/printers", {}).catch(() => ({})));
  if (!found.fragments) return;
  at("printers").innerHTML = found.fragments.printers;
  at("printer-names").replaceChildren(...found.names.map((name) => new Option(name)));
}
at("printer-sheet").addEventListener("click", () => make("/printer-sheet", { paper: at("p-paper").value, margins: at("p-margins").value }, at("printer-made")));
function saidOfPrinters(got) {
  at("printer-said").replaceChildren(...(got.said || [got.refused]).map((words) => {
    const line = document.createElement("p");
    line.textContent = words;
    return line;
  }));
  listPrinters(got);
}
at("printers").addEventListener("click", async (event) => {
  const name = event.target.dataset.printer;
  if (!name || !confirm(`Forget the printer ${name}? To keep it again it has to be measured anew.`)) return;
  saidOfPrinters(await ask("/forget-printer", { name }).catch(() => ({ said: ["The page's program does not answer."] })));
});
at("printer-form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const typed = { ...Object.fromEntries(new FormData(event.target)), anew: at("p-anew").checked };
  saidOfPrinters(await ask("/keep-printer", typed).catch(() => ({ said: ["The page's program does not answer."] })));
});

// --- starting ------------------------------------------------------------------------------------------------------

const kept = (() => { try { return JSON.parse(localStorage.getItem(KEPT) || "null"); } catch { return null; } })();
if (kept && kept.text) {
  at("name").value = kept.name || "job.yaml";
  state.version = kept.version || "";
  state.face = kept.face || "";
  state.readings = kept.readings || {};
  setText(kept.text);
} else setText(EMPTY);
listPrinters();
send();
