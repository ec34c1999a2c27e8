"use strict";
// One step at a time. Everything that is said comes from the page's data, which Python made; here it is shown,
// compared, ticked and kept on the phone.

const data = JSON.parse(document.getElementById("data").textContent);
const STORE = `countersunk-saw-${data.hash}`;
const screens = data.steps.flatMap((step, i) => [
  { key: `step.${step.key}`, step, number: i + 1 },
  ...step.cuts.map((cut) => ({ key: `${cut.piece} ${cut.key}`, step, cut, number: i + 1 })),
]);
const kept = load();
const at = (id) => document.getElementById(id);

function load() {
  const empty = { at: 0, ticks: {}, said: {} };
  try {
    return { ...empty, ...JSON.parse(localStorage.getItem(STORE) ?? "{}") };
  } catch {
    return empty;
  }
}

function keep() {
  try {
    localStorage.setItem(STORE, JSON.stringify(kept));
  } catch {
    at("lost").hidden = false;
  }
}

function make(tag, properties, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(properties ?? {})) {
    if (name in made) made[name] = value;
    else made.setAttribute(name, value);
  }
  made.append(...children);
  return made;
}

const now = () => `${new Date().toISOString().slice(0, 19)}Z`;
const clock = (time) => new Date(time).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
const number = (value) => String(Math.round(value * 10) / 10);
const of = (screen, distance) => `${screen.cut.piece} ${screen.cut.key}.${distance.key}`;

// What a tape says, compared with the drawing: nothing, "good", or the words that stop the fitter.
function judged(screen, distance, said) {
  const off = said - distance.value;
  if (Math.abs(off) <= distance.tolerance + 1e-9) return { good: true };
  const near = ([value]) => Math.abs(value - said) <= distance.tolerance;
  const closest = (some) => some.filter(near).sort((a, b) => Math.abs(a[0] - said) - Math.abs(b[0] - said))[0];
  const slip = closest(distance.slips);
  const other = closest(data.numbers.filter(([, key]) => key !== of(screen, distance)));
  const why = slip ? `Likely: ${slip[1]}.`
    : other ? `Likely: that is a number of another cut: ${other[2]}.`
      : "No usual slip explains it. Measure again from the datum.";
  const apart = `The tape says ${number(said)}, the drawing ${number(distance.value)}: ${number(Math.abs(off))} apart.`;
  return { good: false, apart, why };
}

function form(screen, distance) {
  const id = `said-${distance.key}`;
  const input = make("input", { id, inputMode: "decimal", autocomplete: "off", enterKeyHint: "done" });
  const said = make("div", { className: "said", role: "status" });
  const before = `${distance.axis === "x" ? "From the datum " : ""}${distance.what}`;
  const made = make("form", { noValidate: true },
    make("label", { htmlFor: id }, `${before[0].toUpperCase()}${before.slice(1)}: ${number(distance.value)}`),
    make("div", { className: "row" }, input, make("button", { type: "submit" }, "Check")),
    said);
  const show = () => {
    const held = kept.said[of(screen, distance)];
    made.className = "";
    said.replaceChildren();
    if (!held) return;
    const judgement = judged(screen, distance, held.measured);
    made.className = judgement.good ? "good" : "stop";
    if (judgement.good) said.append(`Agrees with the drawing, to ${number(distance.tolerance)} mm.`);
    else said.append(make("strong", {}, "STOP. Do not cut."), `${judgement.apart} ${judgement.why} ${data.stay}`);
    said.setAttribute("role", judgement.good ? "status" : "alert");
  };
  const held = kept.said[of(screen, distance)];
  if (held) input.value = number(held.measured);
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = input.value.trim().replace(",", ".");
    if (!/^\d{1,5}(\.\d{1,2})?$/.test(text)) {
      delete kept.said[of(screen, distance)];
      show();
      said.append("Type what the tape says in millimetres, such as 1186.5.");
    } else {
      kept.said[of(screen, distance)] = { measured: Number(text), said: distance.value, time: now() };
      show();
      if (made.className === "stop") navigator.vibrate?.([300, 100, 300]);
    }
    if (made.className !== "good") delete kept.ticks[screen.key];
    keep();
    buttons();
    const next = made.className === "good" && [...at("screen").querySelectorAll("form")].find((f) => f.className !== "good");
    if (next) next.querySelector("input").focus();
    else if (made.className === "good") at("done").focus();
    else made.scrollIntoView({ block: "center" });
  });
  show();
  return made;
}

const isOpen = (screen) => screen.cut?.distances.filter((d) => {
  const held = kept.said[of(screen, d)];
  return !held || !judged(screen, d, held.measured).good;
}).length ?? 0;

function drawn(svg, kind) {
  const holder = make("div", {});
  holder.innerHTML = svg;
  holder.firstElementChild.classList.add(kind);
  return holder;
}

function show(index, focus = true) {
  kept.at = Math.min(Math.max(index, 0), screens.length - 1);
  const screen = screens[kept.at];
  const { step, cut } = screen;
  at("where").textContent = `Step ${screen.number} of ${data.steps.length}${cut ? `: ${step.title}` : ""}`;
  at("title").textContent = cut ? cut.title : step.title;
  const body = at("screen");
  body.replaceChildren();
  if (cut) {
    const face = cut.face === "top" ? "DECOR FACE UP" : "UNDERSIDE UP, mirrored";
    body.append(make("p", { className: `face ${cut.face}` }, face), drawn(cut.whole, "whole"), drawn(cut.picture, "alone"));
    body.append(...cut.distances.map((distance) => form(screen, distance)), make("p", {}, cut.how));
  } else {
    body.append(...step.lines.map((line) => make("p", {}, line)));
  }
  body.append(...step.cautions.map((caution) => make("p", { className: "caution" }, caution)));
  body.scrollTop = 0;
  keep();
  buttons();
  if (focus) at("title").focus();
}

function buttons() {
  const screen = screens[kept.at];
  const time = kept.ticks[screen.key];
  const open = isOpen(screen);
  at("done").textContent = time ? `Done ${clock(time)}` : open ? "Measure first" : "Done";
  at("done").setAttribute("aria-disabled", String(!time && open > 0));
  at("done").setAttribute("aria-pressed", String(Boolean(time)));
  document.body.classList.toggle("ticked", Boolean(time));
  at("back").setAttribute("aria-disabled", String(kept.at === 0));
  at("next").setAttribute("aria-disabled", String(kept.at === screens.length - 1));
}

function tick() {
  const screen = screens[kept.at];
  if (kept.ticks[screen.key]) {
    delete kept.ticks[screen.key];
    keep();
    buttons();
  } else if (isOpen(screen)) {
    const first = [...at("screen").querySelectorAll("form")].find((made) => made.className !== "good");
    first.querySelector("input").focus();
  } else {
    kept.ticks[screen.key] = now();
    show(kept.at + 1);
  }
}

// A piece by its key, as on its label (#piece=r-1:top), or by its mark (T1): its first cut that is not done yet.
function go(text) {
  const said = decodeURIComponent((/#piece=(\S+)/.exec(text) ?? [, text.trim()])[1]);
  const its = screens.flatMap((s, i) => (s.cut && (s.cut.piece === said || s.cut.mark.toLowerCase() === said.toLowerCase()) ? [i] : []));
  at("unknown").hidden = its.length > 0;
  if (!its.length) return refuse(`No cut on this page is of "${said.slice(0, 40)}": it is not a top, or the label is of other papers.`);
  show(its.find((i) => !kept.ticks[screens[i].key]) ?? its[0]);
  return true;
}

function refuse(words) {
  at("unknown").textContent = words;
  at("unknown").hidden = false;
  return false;
}

// The code in a photograph of a label, where the browser reads codes itself. The photograph stays on the phone.
async function photographed(file) {
  try {
    const [code] = await new BarcodeDetector({ formats: ["qr_code"] }).detect(await createImageBitmap(file));
    if (code) return go(code.rawValue);
  } catch {
    // No photograph, or none that this browser can look at: said below.
  }
  return refuse("No code can be read in the photograph: hold the phone closer, or type what the label says.");
}

function list() {
  at("scan").hidden = !("BarcodeDetector" in window);
  const found = at("steps");
  found.replaceChildren();
  screens.forEach((screen, i) => {
    const mark = kept.ticks[screen.key] ? "✓ " : "";
    const words = screen.cut ? `${mark}${screen.cut.title}` : `${mark}${screen.number} ${screen.step.title}`;
    found.append(make("button", {
      type: "button", className: kept.ticks[screen.key] ? "good" : "",
      onclick: () => { at("list").close(); show(i); },
    }, words));
  });
  at("list").showModal();
}

function handed() {
  const readings = screens.filter((s) => s.cut).flatMap((s) => s.cut.distances.flatMap((d) => {
    const held = kept.said[of(s, d)];
    return held && judged(s, d, held.measured).good
      ? [{ piece: s.cut.piece, step: `${s.cut.key}.${d.key}`, ...held }] : [];
  }));
  const ticks = Object.entries(kept.ticks).map(([screen, time]) => ({ screen, time }));
  return JSON.stringify({ countersunk_saw: 1, kitchen: data.kitchen, hash: data.hash, readings, ticks }, null, 1);
}

function save() {
  const text = handed();
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  make("a", { href: url, download: `saw-${data.hash.slice(0, 8)}.json` }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
  at("text").value = text;
  at("text").hidden = false;
}

at("back").onclick = () => show(kept.at - 1);
at("next").onclick = () => show(kept.at + 1);
at("done").onclick = tick;
at("all").onclick = list;
at("close").onclick = () => at("list").close();
at("save").onclick = save;
at("find").onsubmit = (event) => {
  event.preventDefault();
  if (go(at("label").value)) at("list").close();
};
at("scan").onclick = () => at("camera").click();
at("camera").onchange = async () => {
  const [file] = at("camera").files;
  if (file && await photographed(file)) at("list").close();
  at("camera").value = "";
};
addEventListener("hashchange", () => location.hash.startsWith("#piece=") && (go(location.hash) || list()));
addEventListener("keydown", (event) => {
  if (event.target instanceof HTMLInputElement || at("list").open || event.ctrlKey || event.metaKey || event.altKey) return;
  const act = { ArrowRight: () => show(kept.at + 1), ArrowLeft: () => show(kept.at - 1), d: tick, l: list }[event.key];
  if (act) {
    event.preventDefault();
    act();
  }
});

show(kept.at, false);
if (location.hash.startsWith("#piece=") && !go(location.hash)) list();
