// The page: what is pressed, and what is shown for it. All words of the show are set
// as text; markup comes from the file alone, where they are escaped.

import { barText, byBars, codeAt, seconds, timeOf, timeOfBar } from "./time.js";
import { look } from "./moment.js";
import { Stage } from "./stage.js";
import { Clock } from "./clock.js";
import { Store } from "./store.js";
import { Notes, newNote } from "./notes.js";

const $ = (id) => document.getElementById(id);
const all = (selector, in_ = document) => Array.from(in_.querySelectorAll(selector));
const read = (id) => JSON.parse($(id).textContent);

function make(tag, className, ...content) {
  const e = document.createElement(tag);
  if (className) e.className = className;
  e.append(...content);
  return e;
}

const set = (e, text) => {
  if (e.textContent !== text) e.textContent = text;
};

const page = read("data");
const store = new Store("emberbeat:" + page.show + ":" + page.night);
const notes = new Notes(store, page);
const still = matchMedia("(prefers-reduced-motion: reduce)");
const wide = matchMedia("(min-width: 900px)");
const sound = $("sound");

const state = { index: -1, song: null, role: null, large: wide.matches, urls: [], picked: null, note: 0, dirty: true };
const clock = new Clock(sound, () => (state.dirty = true));
const stage = new Stage($("stage"));

// --- tabs

function turn(name) {
  for (const s of all("section.tab")) s.hidden = s.id !== name && !(wide.matches && s.id === "songs" && name === "now");
  for (const b of all("nav button")) b.setAttribute("aria-selected", String(b.dataset.tab === name));
  if (document.documentElement.dataset.tab !== name) scrollTo(0, 0);
  document.documentElement.dataset.tab = name;
  if (name === "now" && !state.song && page.songs.length > 0) open(0);
  state.dirty = true;
}

// --- songs

function open(index) {
  if (state.index !== index) {
    state.index = index;
    state.song = read("song-" + index);
    stage.show(read("stage-" + index));
    for (const url of state.urls) URL.revokeObjectURL(url);
    state.urls = [];
    state.picked = null;
    clock.load(state.song, soundOf(index));
    $("song-title").textContent = state.song.number + "  " + state.song.title;
    const part = $("part");
    part.replaceChildren(...state.song.parts.map((p, i) => new Option(p.name + (state.song.bars.length ? ", bar " + barText(state.song, p.from) : ""), i)));
    picture();
    hush();
    for (const b of all("button.song")) b.setAttribute("aria-current", String(Number(b.dataset.song) === index));
    store.set("song", index);
  }
  state.dirty = true;
}

// soundOf gives the address of a song's sound in the file, or "".
function soundOf(index) {
  const e = $("sound-" + index);
  if (!e) return "";
  const text = atob(e.textContent);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i);
  const url = URL.createObjectURL(new Blob([bytes], { type: "audio/wav" }));
  state.urls.push(url);
  return url;
}

// hush says why a song is without sound, where it is.
function hush() {
  const s = page.songs[state.index];
  $("silence").textContent = s.sound ? "" : state.picked ? "Sound: " + state.picked + ". Check that it is the recording of this song." : "Without sound: " + s.silence + ". It runs by the clock of this phone.";
  $("pick").hidden = s.sound;
}

$("file").addEventListener("change", () => {
  const file = $("file").files[0];
  if (!file || !state.song) return;
  const url = URL.createObjectURL(file);
  state.urls.push(url);
  state.picked = file.name;
  clock.load(state.song, url);
  hush();
});
sound.addEventListener("error", () => {
  if (!state.picked) return;
  state.picked = null;
  hush();
  $("silence").textContent = "This phone cannot play that file. " + $("silence").textContent;
});

// --- the picture of the song

function picture() {
  const large = state.large;
  const source = large ? $("large-" + state.index) : all("#songs noscript")[state.index];
  const box = $("drawing");
  let markup = source.textContent;
  if (!large) markup = markup.slice(0, markup.indexOf("</svg>") + 6);
  box.innerHTML = markup;
  $("picture").classList.toggle("large", large);
  $("zoom").setAttribute("aria-pressed", String(large));
  $("picture").setAttribute("aria-valuemax", String(Math.round(state.song.duration / 10000)));
  state.axis = large ? state.song.large : state.song.small;
  state.dirty = true;
}

$("zoom").addEventListener("click", () => {
  state.large = !state.large;
  picture();
});

$("drawing").addEventListener("click", (e) => {
  const r = $("drawing").firstChild.getBoundingClientRect();
  const x = (e.clientX - r.left) / r.width;
  const { left, right, from, to } = state.axis;
  clock.seek(Math.round(from + ((x - left) / (right - left)) * (to - from)));
  state.dirty = true;
});

function head(at) {
  const svg = $("drawing").firstChild;
  if (!svg) return;
  const { left, right, from, to } = state.axis;
  const part = left + ((at - from) / (to - from)) * (right - left);
  const width = svg.getBoundingClientRect().width;
  $("head").style.transform = "translateX(" + (part * width).toFixed(1) + "px)";
  const p = $("picture");
  if (state.large && clock.running) {
    const x = part * width;
    if (x < p.scrollLeft + 0.1 * p.clientWidth || x > p.scrollLeft + 0.8 * p.clientWidth) p.scrollLeft = x - 0.3 * p.clientWidth;
  }
}

// --- now

const only = () => (state.role && state.role.at !== undefined ? (cue) => cue.at.includes(state.role.at) : null);

function cueRow(cue, at) {
  const row = make("li", "cue");
  const text = make("span", "words", make("bdi", "title", cue.name), make("bdi", "quiet", cue.where));
  row.append(make("span", "in", seconds(cue.cmd - at)), make("span", "chip k-" + cue.class), text, make("span", "bar", cue.bar));
  return row;
}

let nextShown = null;

function drawNext(m, song) {
  const box = $("next");
  if (m.next < 0) {
    if (nextShown !== "none") box.replaceChildren(make("p", "quiet", "No more commands are planned in this song" + (only() ? " at this place" : "") + ". Then: " + song.after + "."));
    nextShown = "none";
    return;
  }
  const cue = song.cues[m.next];
  if (nextShown !== cue) {
    nextShown = cue;
    const lines = [make("bdi", "what", [cue.what, cue.where].filter(Boolean).join(" · ")), make("div", "drain", make("i", "k-" + cue.class)), make("span", "", "at " + (cue.bar || "–") + ", command " + cue.code + ", planned open until " + cue.until)];
    if (cue.needs) lines.push(make("bdi", "needs", "Needs " + cue.needs));
    if (cue.note) lines.push(make("bdi", "needs", "Note: " + cue.note));
    box.replaceChildren(make("div", "nextrow", make("span", "", make("span", "quiet", "Next, planned"), make("bdi", "title", make("span", "chip k-" + cue.class), cue.name)), make("output", "countdown")), ...lines);
  }
  set(box.querySelector(".countdown"), seconds(m.in) + " s");
  box.querySelector(".drain i").style.width = (100 * m.drain).toFixed(1) + "%";
}

let rowsShown = "";

function drawAfter(m, song) {
  const key = state.index + ":" + m.after.join();
  if (key !== rowsShown) {
    rowsShown = key;
    $("after").replaceChildren(...m.after.map((i) => cueRow(song.cues[i], m.at)));
    return;
  }
  const rows = $("after").children;
  m.after.forEach((i, k) => set(rows[k].firstChild, seconds(song.cues[i].cmd - m.at)));
}

function armText(a) {
  const what = a.arm.name + ": ";
  if (a.up) return what + (a.span.open ? "planned up, nothing closes it" : "planned up until " + a.span.down_at + ", " + seconds(a.in) + " s");
  return a.span ? what + "planned up at " + a.span.up_at + ", in " + seconds(a.in) + " s" : "";
}

// frame draws a moment. Label and sound are of one reading of the clock.
function frame() {
  clock.step();
  const moving = clock.running;
  if (state.song && (moving || state.dirty) && !$("now").hidden) {
    const at = clock.at();
    draw(at);
    state.dirty = moving;
  }
  requestAnimationFrame(frame);
}

function draw(at) {
  const song = state.song;
  const m = look(song, at, only());
  set($("code"), codeAt(song, at));
  set($("bar"), barText(song, at));
  set($("section"), song.parts[m.part].name + " · not linked to the show");
  set($("play"), clock.running ? "Pause" : "Play");
  drawNext(m, song);
  drawAfter(m, song);
  set($("open"), m.open.length ? "Planned open: " + m.open.map((i) => song.cues[i].name + " until " + song.cues[i].until).join("; ") : "");
  set($("arms"), m.arms.map(armText).filter(Boolean).join(" · "));
  set($("found"), song.found ? "Findings in this song: " + song.found + ", see Night" : "");
  $("picture").setAttribute("aria-valuenow", String(Math.round(at / 10000)));
  $("picture").setAttribute("aria-valuetext", codeAt(song, at));
  head(at);
  stage.draw(at, still.matches);
}

const nudge = (ticks) => {
  if (!state.song) return;
  clock.seek(clock.at() + ticks);
  state.dirty = true;
};
const bars = (n) => {
  if (!state.song) return;
  clock.seek(byBars(state.song, clock.at(), n));
  state.dirty = true;
};
const playPause = () => {
  if (!state.song) return;
  if (clock.running) clock.pause();
  else clock.play();
  state.dirty = true;
};

$("play").addEventListener("click", playPause);
$("back").addEventListener("click", () => bars(-1));
$("on").addEventListener("click", () => bars(1));
for (const b of all("[data-nudge]")) b.addEventListener("click", () => nudge(Number(b.dataset.nudge)));

// songWith finds the song in which a timecode runs: the one in view first.
function songWith(text) {
  for (const i of [state.index, ...page.songs.keys()]) {
    const song = i === state.index ? state.song : read("song-" + i);
    const at = timeOf(song, text);
    if (at !== null && at >= 0 && at <= song.duration) return [i, at];
  }
  return null;
}

$("goto").addEventListener("submit", (e) => {
  e.preventDefault();
  const text = $("typed").value;
  const bar = timeOfBar(state.song, text);
  const found = bar !== null ? [state.index, bar] : songWith(text);
  $("typed-wrong").textContent = found ? "" : "No song of this page runs then. Write a timecode as 01:02:20:03, or a bar of this song as 61.1.";
  if (!found) return;
  open(found[0]);
  clock.seek(found[1]);
  state.dirty = true;
});

$("loop").addEventListener("click", () => {
  const part = state.song.parts[Number($("part").value)];
  clock.loop = clock.loop ? null : part;
  if (clock.loop) clock.seek(part.from);
  looped();
});
$("part").addEventListener("change", () => {
  const part = state.song.parts[Number($("part").value)];
  if (clock.loop) clock.loop = part;
  clock.seek(part.from);
  looped();
});
function looped() {
  $("loop").setAttribute("aria-pressed", String(!!clock.loop));
  set($("loop"), clock.loop ? "End the loop" : "Loop this section");
  state.dirty = true;
}

// --- notes

function noteOpen() {
  if (!state.song) return;
  state.note = clock.at();
  $("note-at").textContent = "Note at " + (barText(state.song, state.note) || codeAt(state.song, state.note));
  $("note-text").value = "";
  $("note-by").value = store.get("by", "");
  $("note-form").hidden = false;
  $("note-text").focus();
}
$("note-open").addEventListener("click", noteOpen);
// noteClose gives the keys back to the page at once.
function noteClose() {
  if ($("note-form").hidden) return;
  $("note-form").hidden = true;
  $("note-open").focus();
}
$("note-drop").addEventListener("click", noteClose);
$("note-talk").append(
  ...page.talk.map((words) => {
    const b = make("button", "", words);
    b.type = "button";
    b.addEventListener("click", () => ($("note-text").value = words));
    return b;
  }),
);
$("note").addEventListener("submit", (e) => {
  e.preventDefault();
  const text = $("note-text").value.trim();
  if (!text) return $("note-text").focus();
  const by = $("note-by").value;
  store.set("by", by);
  const kept = notes.add(newNote(state.song, state.note, barText(state.song, state.note), codeAt(state.song, state.note), text, by));
  noteClose();
  listNotes(kept);
  if (!kept) {
    turn("night");
    $("notes-save").focus();
  }
});

function listNotes(kept) {
  const titles = new Map(page.songs.map((s) => [s.id, s.number + " " + s.title]));
  $("notes").replaceChildren(
    ...notes.list.map((n, i) => {
      const drop = make("button", "", "Delete");
      drop.type = "button";
      drop.addEventListener("click", () => {
        notes.remove(i);
        listNotes(store.kept);
      });
      return make("li", "", make("bdi", "title", (titles.get(n.song) || "a song that is not on this page") + ", " + (n.bar || n.code)), make("bdi", "", n.text + (n.by ? " (" + n.by + ")" : "")), drop);
    }),
  );
  set($("notes-said"), !notes.list.length ? "No notes." : kept ? "Kept on this phone until you delete them." : "This phone keeps nothing here: save the file now, or the notes are lost with the page.");
  const link = $("notes-save");
  link.hidden = !notes.list.length;
  if (link.href.startsWith("blob:")) URL.revokeObjectURL(link.href);
  link.href = URL.createObjectURL(new Blob([notes.file()], { type: "application/json" }));
  link.download = "notes-" + page.hash + ".json";
}

// --- sheets

for (const li of all("#sheet-list > li")) {
  li.querySelector("details").addEventListener("toggle", (e) => {
    const box = li.querySelector(".sheet");
    if (e.target !== li.querySelector("details") || !e.target.open || box.firstChild) return;
    box.innerHTML = li.querySelector("noscript").textContent;
    box.querySelector("h3").remove();
    narrow();
  });
}

function narrow() {
  const role = state.role;
  const order = role ? role.sheets : [];
  const list = $("sheet-list");
  const items = all("#sheet-list > li");
  for (const li of items) li.hidden = !!role && !order.includes(li.dataset.sheet);
  if (role) for (const name of order) items.filter((li) => li.dataset.sheet === name).forEach((li) => list.append(li));
  else page.sheets.forEach((s) => list.append(items.find((li) => li.dataset.sheet === s.name)));
  for (const part of all(".sheet [data-at]")) part.hidden = !!role && role.at !== undefined && Number(part.dataset.at) !== role.at;
}

$("role").append(new Option("everybody", ""), ...page.roles.map((r) => new Option(r.name, r.key)));
$("role").addEventListener("change", () => {
  store.set("role", $("role").value);
  choose($("role").value);
});
function choose(key) {
  state.role = page.roles.find((r) => r.key === key) || null;
  $("role").value = state.role ? key : "";
  nextShown = null;
  rowsShown = "";
  narrow();
  state.dirty = true;
}

// --- how it looks

const looks = {
  theme: (v) => (v ? (document.documentElement.dataset.theme = v) : delete document.documentElement.dataset.theme),
  letters: (v) => (document.documentElement.style.fontSize = v + "%"),
  hand: (v) => (document.documentElement.dataset.hand = v),
};
for (const [name, apply] of Object.entries(looks)) {
  const select = $(name);
  const kept = store.get(name, select.value);
  if (Array.from(select.options).some((o) => o.value === kept)) select.value = kept;
  apply(select.value);
  select.addEventListener("change", () => {
    store.set(name, select.value);
    apply(select.value);
    state.dirty = true;
  });
}

// --- what is pressed

for (const b of all("button.song, button.go")) {
  b.addEventListener("click", () => {
    open(Number(b.dataset.song));
    if (b.dataset.at) clock.seek(Number(b.dataset.at));
    turn("now");
  });
}
for (const b of all("nav button")) b.addEventListener("click", () => turn(b.dataset.tab));

document.addEventListener("keydown", (e) => {
  const typing = /^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName);
  if (e.key === "Escape") noteClose();
  if (typing || e.ctrlKey || e.metaKey || e.altKey) return;
  const tab = ["songs", "now", "sheets", "night"]["1234".indexOf(e.key)];
  const pressed = e.target.tagName === "BUTTON" || e.target.tagName === "SUMMARY" || e.target.tagName === "A";
  if (tab) turn(tab);
  else if (e.key === " " && !pressed) playPause();
  else if (e.key === "ArrowLeft") bars(-1);
  else if (e.key === "ArrowRight") bars(1);
  else if (e.key === "n") noteOpen();
  else return;
  e.preventDefault();
});

wide.addEventListener("change", () => turn(document.documentElement.dataset.tab));
addEventListener("resize", () => (state.dirty = true));

document.documentElement.classList.add("scripts");
choose(store.get("role", ""));
listNotes(store.kept);
turn("songs");
requestAnimationFrame(frame);
