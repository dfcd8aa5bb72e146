(() => {
  // web/time.js
  var TICKS = 1e4;
  var two = (n) => String(n).padStart(2, "0");
  function dayFrames(rate) {
    const day = 24 * 3600 * rate.nominal;
    return rate.drop ? day - 2 * (24 * 60 - 24 * 6) : day;
  }
  function label(rate, frame2) {
    const day = dayFrames(rate);
    let n = (frame2 % day + day) % day;
    if (rate.drop) {
      const tens = Math.floor(n / 17982);
      const rest = n % 17982;
      n += 18 * tens + (rest < 1800 ? 0 : 2 * (Math.floor((rest - 1800) / 1798) + 1));
    }
    const f = n % rate.nominal;
    const s = Math.floor(n / rate.nominal);
    return two(Math.floor(s / 3600)) + ":" + two(Math.floor(s / 60) % 60) + ":" + two(s % 60) + (rate.drop ? ";" : ":") + two(f);
  }
  function frameAt(song, at) {
    return song.frame + Math.floor((at + 0.51) * song.rate.num / (TICKS * song.rate.den));
  }
  var codeAt = (song, at) => label(song.rate, frameAt(song, at));
  function timeOf(song, text) {
    const m = /^\s*(\d{1,2})[:.](\d{1,2})[:.](\d{1,2})[:;.](\d{1,2})\s*$/.exec(text);
    if (!m) return null;
    const [h, min, s, f] = m.slice(1).map(Number);
    const { rate } = song;
    if (h > 23 || min > 59 || s > 59 || f >= rate.nominal) return null;
    if (rate.drop && f < 2 && s === 0 && min % 10 !== 0) return null;
    let frame2 = ((h * 60 + min) * 60 + s) * rate.nominal + f;
    if (rate.drop) frame2 -= 2 * (h * 60 + min - Math.floor((h * 60 + min) / 10));
    return Math.ceil((frame2 - song.frame) * TICKS * rate.den / rate.num - 0.5);
  }
  function upTo(list, at) {
    let lo = 0;
    let hi = list.length - 1;
    while (lo < hi) {
      const mid = lo + hi + 1 >> 1;
      if (list[mid] <= at) lo = mid;
      else hi = mid - 1;
    }
    return lo;
  }
  function place(song, at) {
    const { bars: bars2, beats } = song;
    if (bars2.length < 2) return null;
    const n = Math.min(upTo(beats, at), beats.length - 2);
    const index = Math.min(upTo(bars2, n), bars2.length - 2);
    return { bar: song.bar + index, beat: n - bars2[index] + 1, index, part: (at - beats[n]) / (beats[n + 1] - beats[n]) };
  }
  function barText(song, at) {
    const p = place(song, at);
    return p ? p.bar + "." + p.beat : "";
  }
  function timeOfBar(song, text) {
    const m = /^\s*(-?\d{1,4})(?:\.(\d{1,2}))?\s*$/.exec(text);
    const { bars: bars2, beats } = song;
    if (!m || bars2.length < 2) return null;
    const i = Number(m[1]) - song.bar;
    const beat = Number(m[2] || 1) - 1;
    if (i < 0 || i > bars2.length - 2 || beat < 0 || beat >= bars2[i + 1] - bars2[i]) return null;
    return beats[bars2[i] + beat];
  }
  function byBars(song, at, n) {
    const p = place(song, at);
    if (!p) return at + n * 2 * TICKS;
    const { bars: bars2, beats } = song;
    const to = p.index + n;
    if (to < 0) return 0;
    if (to > bars2.length - 2) return song.duration;
    const beat = Math.min(bars2[to] + p.beat - 1, bars2[to + 1] - 1);
    return Math.round(beats[beat] + p.part * (beats[beat + 1] - beats[beat]));
  }
  function seconds(ticks) {
    const t = Math.max(0, Math.floor(ticks / 1e3));
    return t >= 600 ? Math.floor(t / 600) + ":" + two(Math.floor(t % 600 / 10)) : Math.floor(t / 10) + "." + t % 10;
  }

  // web/moment.js
  var LISTED = 4;
  function look(song, at, only2) {
    const m = { at, next: -1, in: 0, drain: 0, after: [], open: [], arms: [], part: 0 };
    const { cues, parts } = song;
    while (m.part + 1 < parts.length && parts[m.part + 1].from <= at) m.part++;
    for (let i = first(cues, at); i < cues.length && m.after.length < LISTED; i++) {
      if (only2 && !only2(cues[i])) continue;
      if (m.next < 0) {
        m.next = i;
        m.in = cues[i].cmd - at;
        m.drain = Math.min(1, m.in / Math.max(cues[i].drain, 1));
      } else m.after.push(i);
    }
    for (let i = 0; i < cues.length && cues[i].cmd <= at; i++) {
      if (at < cues[i].end && (!only2 || only2(cues[i]))) m.open.push(i);
    }
    m.arms = song.arms.map((arm) => armAt(arm, at));
    return m;
  }
  function first(cues, at) {
    let lo = 0;
    let hi = cues.length;
    while (lo < hi) {
      const mid = lo + hi >> 1;
      if (cues[mid].cmd >= at) hi = mid;
      else lo = mid + 1;
    }
    return lo;
  }
  function armAt(arm, at) {
    for (const span of arm.spans) {
      if (at < span.up) return { arm, up: false, span, in: span.up - at };
      if (span.open) return { arm, up: true, span, in: 0 };
      if (at < span.down) return { arm, up: true, span, in: span.down - at };
    }
    return { arm, up: false, span: null, in: 0 };
  }

  // web/stage.js
  var SVG = "http://www.w3.org/2000/svg";
  function heightAt(hit, at) {
    const [, from, full, closed, gone] = hit;
    if (at < from || at >= gone) return 0;
    if (at < full) return (at - from) / (full - from);
    if (at < closed) return 1;
    return (gone - at) / (gone - closed);
  }
  function standing(stage2, at, still2) {
    const list = [];
    for (const row of stage2.spells) {
      const [from, to, flags] = row;
      if (from > at) break;
      if (at >= to) continue;
      let best = null;
      let height = 0;
      for (let i = 3; i < row.length; i += 5) {
        const hit = row.slice(i, i + 5);
        if (flags & 1) {
          best = hit;
          height = 1;
          break;
        }
        let h = heightAt(hit, at);
        if (still2 && h > 0) h = at < hit[3] ? 1 : 0;
        if (h > height) [best, height] = [hit, h];
      }
      if (best) list.push({ look: best[0], height, fallen: best[4] > best[3] ? Math.min(1, Math.max(0, (at - best[3]) / (best[4] - best[3]))) : 0, how: flags & 2 ? "line" : flags & 1 ? "stripes" : "body" });
    }
    return list;
  }
  var place2 = (l, along, across) => [l.x + l.ax * along - l.ay * across, l.y + l.ay * along + l.ax * across];
  var half = (l, part) => l.root + l.grow * part;
  var write = (points) => "M" + points.map((p) => p[0].toFixed(1) + " " + p[1].toFixed(1)).join("L");
  function scatter(i, k) {
    let n = (Math.imul(i, 2654435761) ^ Math.imul(k, 40503)) >>> 0;
    n = (n ^ n >>> 15) >>> 0;
    n = Math.imul(n, 2246822519) >>> 0;
    n = (n ^ n >>> 13) >>> 0;
    return n % 1e3 / 1e3;
  }
  function cone(l, a, b) {
    const p = half(l, a);
    const q = half(l, b);
    return write([place2(l, a * l.long, p), place2(l, b * l.long, q), place2(l, b * l.long, -q), place2(l, a * l.long, -p)]) + "z";
  }
  var LEAF = [0.25, 0.55, 0.88, 1, 0.95, 0.78, 0.55, 0.28, 0];
  function leaf(l, long, wide2) {
    const n = LEAF.length - 1;
    const up = LEAF.map((w, i) => place2(l, long * i / n, wide2 * w));
    const down = LEAF.map((w, i) => place2(l, long * i / n, -wide2 * w)).reverse();
    return write(up.concat(down)) + "z";
  }
  var square = (p, size) => "M" + p[0].toFixed(1) + " " + p[1].toFixed(1) + "h" + size + "v" + size + "h" + -size + "z";
  function ellipse(x, y, a, b) {
    return "M" + (x - a).toFixed(1) + " " + y.toFixed(1) + "a" + a.toFixed(1) + " " + b.toFixed(1) + " 0 1 0 " + (2 * a).toFixed(1) + " 0a" + a.toFixed(1) + " " + b.toFixed(1) + " 0 1 0 " + (-2 * a).toFixed(1) + " 0z";
  }
  function figure(l, height, fallen, floor) {
    const fill = [];
    const line = [];
    switch (l.shape) {
      case "line":
      case "stem": {
        const tip = place2(l, l.long * height, 0);
        line.push([write([[l.x, l.y], tip]), 3, 0.8]);
        fill.push([ellipse(tip[0], tip[1], 5, 5), 1]);
        break;
      }
      case "burst": {
        let at = [l.x, l.y];
        if (l.rises) {
          at = place2(l, l.long * height, 0);
          line.push([write([[l.x, l.y], at]), 1.5, 0.5]);
        }
        const r = l.burst * height;
        let d = "";
        for (let i = 0; i < 12; i++) {
          const a = 2 * Math.PI * i / 12;
          const y = Math.min(at[1] + r * Math.sin(a), floor);
          d += write([[at[0] + 0.15 * r * Math.cos(a), Math.min(at[1] + 0.15 * r * Math.sin(a), floor)], [at[0] + r * Math.cos(a), y]]);
        }
        line.push([d, 2.5, 0.9]);
        break;
      }
      case "flame":
        fill.push([leaf(l, l.long * height, half(l, 0.7)), 1], [leaf(l, l.long * height * 0.55, half(l, 0.7) * 0.45), 0.45, "text"]);
        break;
      case "jet":
        for (let i = 0; i < 6; i++) fill.push([cone(l, i / 6 * height, (i + 1) / 6 * height), 1 - 0.7 * i / 6]);
        break;
      case "sparks": {
        let d = "";
        for (let k = 1; k <= 9; k++) {
          const part = height * k / 9;
          for (let j = -3; j <= 3; j++) d += square(place2(l, part * l.long * (1 - 0.05 * j * j / 3), half(l, part) * j / 3), 2);
        }
        fill.push([d, 0.7]);
        break;
      }
      case "paper": {
        const h = fallen > 0 ? 1 : Math.min(height, 1);
        let d = "";
        for (let i = 0; i < 30; i++) {
          const a = scatter(i, 1);
          const b = scatter(i, 2);
          const part = h * (0.35 + 0.65 * a);
          const p = place2(l, part * l.long, half(l, part) * (2 * b - 1));
          p[1] += (floor - p[1] - 4) * Math.min(1, fallen * (0.8 + 0.4 * b));
          p[0] += 0.8 * l.metre * fallen * (a - 0.4);
          d += square(p, 4);
        }
        fill.push([d, 1]);
        break;
      }
      case "curtain": {
        let d = "";
        for (let across = -Math.floor(half(l, 0)); across <= half(l, 0); across += 8) {
          for (let down = 0; down < height * l.long; down += 8) {
            const p = place2(l, down + 8 * scatter(across + 9999, down), across);
            if (p[1] < floor) d += square(p, 2);
          }
        }
        fill.push([d, 0.9]);
        break;
      }
      case "cloud":
        for (let i = 0; i < 5; i++) {
          const high = 0.35 * l.metre;
          fill.push([ellipse(l.x + (i - 2) * 0.7 * (1 + fallen) * l.metre, l.y - high * (0.8 + 0.3 * scatter(i, 3)), (0.9 + 0.5 * fallen) * l.metre, high), 0.32 * height]);
        }
        break;
      default:
        line.push([edge(l, height), 1.2, 1]);
    }
    return { fill, line };
  }
  function edge(l, height) {
    switch (l.shape) {
      case "line":
        return write([[l.x, l.y], place2(l, l.long * height, 0)]);
      case "burst": {
        const at = l.rises ? place2(l, l.long * height, 0) : [l.x, l.y];
        return ellipse(at[0], at[1], l.burst * height, l.burst * height);
      }
      case "cloud":
        return ellipse(l.x, l.y - 0.3 * l.metre, 2 * l.metre, 0.3 * l.metre);
    }
    const b = half(l, height);
    return write([place2(l, 0, -half(l, 0)), place2(l, l.long * height, -b), place2(l, l.long * height, b), place2(l, 0, half(l, 0))]);
  }
  var Stage = class {
    constructor(box) {
      this.box = box;
      this.data = null;
    }
    // show takes up a song's stage. Its markup is the program's own, with every word of
    // the show escaped.
    show(data) {
      this.data = data;
      this.box.innerHTML = data.svg;
      this.layer = document.createElementNS(SVG, "g");
      this.box.firstChild.appendChild(this.layer);
      this.last = "";
    }
    draw(at, still2) {
      if (!this.data) return;
      const list = standing(this.data, at, still2);
      const key = JSON.stringify(list);
      if (key === this.last) return;
      this.last = key;
      const parts = [];
      for (const s of list) {
        const l = this.data.looks[s.look];
        if (s.how !== "body") {
          parts.push(stroke(edge(l, 1), l.ink, 1.2, 1));
          if (s.how === "stripes" && !["line", "burst", "cloud"].includes(l.shape)) {
            for (let a = 5; a + 5 <= l.long; a += 10) parts.push(filled(cone(l, a / l.long, (a + 5) / l.long), l.ink, 0.75));
          }
          continue;
        }
        const f = figure(l, s.height, s.fallen, this.data.floor);
        for (const [d, cover, ink] of f.fill) parts.push(filled(d, ink || l.ink, cover));
        for (const [d, width, cover] of f.line) parts.push(stroke(d, l.ink, width, cover));
      }
      this.layer.replaceChildren(...parts);
    }
  };
  function filled(d, ink, cover) {
    const p = document.createElementNS(SVG, "path");
    p.setAttribute("class", "body i-" + ink);
    p.setAttribute("d", d);
    p.setAttribute("fill-opacity", cover.toFixed(2));
    return p;
  }
  function stroke(d, ink, width, cover) {
    const p = document.createElementNS(SVG, "path");
    p.setAttribute("class", "s-" + ink);
    p.setAttribute("d", d);
    p.setAttribute("stroke-width", width);
    p.setAttribute("stroke-opacity", cover.toFixed(2));
    return p;
  }

  // web/clock.js
  var Clock = class {
    // sound is an audio element; ended is called when the song is over.
    constructor(sound2, ended) {
      this.sound = sound2;
      this.ended = ended;
      this.song = null;
      this.heard = false;
      this.running = false;
      this.held = 0;
      this.begun = 0;
      this.loop = null;
      sound2.addEventListener("ended", () => this.stop());
      sound2.addEventListener("error", () => {
        if (this.heard) this.load(this.song, "");
      });
    }
    // load takes up a song at its start, with a blob's address for its sound, or "".
    load(song, address) {
      const at = song === this.song ? this.at() : 0;
      this.pause();
      this.song = song;
      this.loop = null;
      this.heard = address !== "";
      if (this.heard) this.sound.src = address;
      else this.sound.removeAttribute("src");
      this.seek(at);
    }
    at() {
      if (this.heard) return Math.round(this.sound.currentTime * TICKS);
      if (!this.running) return this.held;
      return Math.round(this.held + (performance.now() - this.begun) * TICKS / 1e3);
    }
    seek(at) {
      const to = Math.min(Math.max(at, 0), this.song.duration);
      this.held = to;
      this.begun = performance.now();
      if (this.heard) this.sound.currentTime = to / TICKS;
    }
    play() {
      if (!this.song || this.running) return;
      if (this.at() >= this.song.duration) this.seek(0);
      this.held = this.at();
      this.begun = performance.now();
      this.running = true;
      if (this.heard) {
        const started = this.sound.play();
        if (started) started.catch(() => this.pause());
      }
    }
    pause() {
      if (!this.running) return;
      this.held = this.at();
      this.running = false;
      if (this.heard) this.sound.pause();
    }
    stop() {
      this.pause();
      this.ended();
    }
    // step is called once a frame: it ends at the end, and goes round in a loop.
    step() {
      if (!this.running) return;
      const at = this.at();
      if (this.loop && at >= this.loop.to) this.seek(this.loop.from);
      else if (at >= this.song.duration) this.stop();
    }
  };

  // web/store.js
  var Store = class {
    constructor(key) {
      this.key = key;
      this.kept = true;
      try {
        localStorage.setItem(key + ":try", "1");
        localStorage.removeItem(key + ":try");
      } catch (e) {
        this.kept = false;
      }
      this.memory = /* @__PURE__ */ new Map();
    }
    get(name, none) {
      let text = this.memory.get(name);
      if (text === void 0 && this.kept) {
        try {
          text = localStorage.getItem(this.key + ":" + name);
        } catch (e) {
          text = null;
        }
      }
      if (text === void 0 || text === null) return none;
      try {
        return JSON.parse(text);
      } catch (e) {
        return none;
      }
    }
    // set reports whether it is remembered after the page is closed.
    set(name, value) {
      const text = JSON.stringify(value);
      this.memory.set(name, text);
      if (!this.kept) return false;
      try {
        localStorage.setItem(this.key + ":" + name, text);
        return true;
      } catch (e) {
        return false;
      }
    }
  };

  // web/notes.js
  var FORMAT = 1;
  var Notes = class {
    constructor(store2, page2) {
      this.store = store2;
      this.page = page2;
      const list = store2.get("notes", []);
      this.list = Array.isArray(list) ? list.filter((n) => n && typeof n.text === "string" && typeof n.song === "string" && Number.isFinite(n.at)) : [];
    }
    // add reports whether the note is remembered after the page is closed.
    add(note) {
      this.list.push(note);
      return this.store.set("notes", this.list);
    }
    remove(i) {
      this.list.splice(i, 1);
      this.store.set("notes", this.list);
    }
    // file gives what stands in the file.
    file() {
      const { show, night, revision, hash } = this.page;
      return JSON.stringify({ emberbeat_notes: FORMAT, show, night, revision, page: hash, notes: this.list }, null, 1) + "\n";
    }
  };
  function newNote(song, at, bar, code, text, by) {
    const random = new Uint32Array(3);
    crypto.getRandomValues(random);
    return { id: "note-" + Array.from(random, (n) => n.toString(36)).join(""), song: song.id, at, bar, code, text: text.trim(), by: by.trim() };
  }

  // web/main.js
  var $ = (id) => document.getElementById(id);
  var all = (selector, in_ = document) => Array.from(in_.querySelectorAll(selector));
  var read = (id) => JSON.parse($(id).textContent);
  function make(tag, className, ...content) {
    const e = document.createElement(tag);
    if (className) e.className = className;
    e.append(...content);
    return e;
  }
  var set = (e, text) => {
    if (e.textContent !== text) e.textContent = text;
  };
  var page = read("data");
  var store = new Store("emberbeat:" + page.show + ":" + page.night);
  var notes = new Notes(store, page);
  var still = matchMedia("(prefers-reduced-motion: reduce)");
  var wide = matchMedia("(min-width: 900px)");
  var sound = $("sound");
  var state = { index: -1, song: null, role: null, large: wide.matches, urls: [], picked: null, note: 0, dirty: true };
  var clock = new Clock(sound, () => state.dirty = true);
  var stage = new Stage($("stage"));
  function turn(name) {
    for (const s of all("section.tab")) s.hidden = s.id !== name && !(wide.matches && s.id === "songs" && name === "now");
    for (const b of all("nav button")) b.setAttribute("aria-selected", String(b.dataset.tab === name));
    if (document.documentElement.dataset.tab !== name) scrollTo(0, 0);
    document.documentElement.dataset.tab = name;
    if (name === "now" && !state.song && page.songs.length > 0) open(0);
    state.dirty = true;
  }
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
  function picture() {
    const large = state.large;
    const source = large ? $("large-" + state.index) : all("#songs noscript")[state.index];
    const box = $("drawing");
    let markup = source.textContent;
    if (!large) markup = markup.slice(0, markup.indexOf("</svg>") + 6);
    box.innerHTML = markup;
    $("picture").classList.toggle("large", large);
    $("zoom").setAttribute("aria-pressed", String(large));
    $("picture").setAttribute("aria-valuemax", String(Math.round(state.song.duration / 1e4)));
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
    clock.seek(Math.round(from + (x - left) / (right - left) * (to - from)));
    state.dirty = true;
  });
  function head(at) {
    const svg = $("drawing").firstChild;
    if (!svg) return;
    const { left, right, from, to } = state.axis;
    const part = left + (at - from) / (to - from) * (right - left);
    const width = svg.getBoundingClientRect().width;
    $("head").style.transform = "translateX(" + (part * width).toFixed(1) + "px)";
    const p = $("picture");
    if (state.large && clock.running) {
      const x = part * width;
      if (x < p.scrollLeft + 0.1 * p.clientWidth || x > p.scrollLeft + 0.8 * p.clientWidth) p.scrollLeft = x - 0.3 * p.clientWidth;
    }
  }
  var only = () => state.role && state.role.at !== void 0 ? (cue) => cue.at.includes(state.role.at) : null;
  function cueRow(cue, at) {
    const row = make("li", "cue");
    const text = make("span", "words", make("bdi", "title", cue.name), make("bdi", "quiet", cue.where));
    row.append(make("span", "in", seconds(cue.cmd - at)), make("span", "chip k-" + cue.class), text, make("span", "bar", cue.bar));
    return row;
  }
  var nextShown = null;
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
      const lines = [make("bdi", "what", [cue.what, cue.where].filter(Boolean).join(" \xB7 ")), make("div", "drain", make("i", "k-" + cue.class)), make("span", "", "at " + (cue.bar || "\u2013") + ", command " + cue.code + ", planned open until " + cue.until)];
      if (cue.needs) lines.push(make("bdi", "needs", "Needs " + cue.needs));
      if (cue.note) lines.push(make("bdi", "needs", "Note: " + cue.note));
      box.replaceChildren(make("div", "nextrow", make("span", "", make("span", "quiet", "Next, planned"), make("bdi", "title", make("span", "chip k-" + cue.class), cue.name)), make("output", "countdown")), ...lines);
    }
    set(box.querySelector(".countdown"), seconds(m.in) + " s");
    box.querySelector(".drain i").style.width = (100 * m.drain).toFixed(1) + "%";
  }
  var rowsShown = "";
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
    set($("section"), song.parts[m.part].name + " \xB7 not linked to the show");
    set($("play"), clock.running ? "Pause" : "Play");
    drawNext(m, song);
    drawAfter(m, song);
    set($("open"), m.open.length ? "Planned open: " + m.open.map((i) => song.cues[i].name + " until " + song.cues[i].until).join("; ") : "");
    set($("arms"), m.arms.map(armText).filter(Boolean).join(" \xB7 "));
    set($("found"), song.found ? "Findings in this song: " + song.found + ", see Night" : "");
    $("picture").setAttribute("aria-valuenow", String(Math.round(at / 1e4)));
    $("picture").setAttribute("aria-valuetext", codeAt(song, at));
    head(at);
    stage.draw(at, still.matches);
  }
  var nudge = (ticks) => {
    if (!state.song) return;
    clock.seek(clock.at() + ticks);
    state.dirty = true;
  };
  var bars = (n) => {
    if (!state.song) return;
    clock.seek(byBars(state.song, clock.at(), n));
    state.dirty = true;
  };
  var playPause = () => {
    if (!state.song) return;
    if (clock.running) clock.pause();
    else clock.play();
    state.dirty = true;
  };
  $("play").addEventListener("click", playPause);
  $("back").addEventListener("click", () => bars(-1));
  $("on").addEventListener("click", () => bars(1));
  for (const b of all("[data-nudge]")) b.addEventListener("click", () => nudge(Number(b.dataset.nudge)));
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
      b.addEventListener("click", () => $("note-text").value = words);
      return b;
    })
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
      })
    );
    set($("notes-said"), !notes.list.length ? "No notes." : kept ? "Kept on this phone until you delete them." : "This phone keeps nothing here: save the file now, or the notes are lost with the page.");
    const link = $("notes-save");
    link.hidden = !notes.list.length;
    if (link.href.startsWith("blob:")) URL.revokeObjectURL(link.href);
    link.href = URL.createObjectURL(new Blob([notes.file()], { type: "application/json" }));
    link.download = "notes-" + page.hash + ".json";
  }
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
    for (const part of all(".sheet [data-at]")) part.hidden = !!role && role.at !== void 0 && Number(part.dataset.at) !== role.at;
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
  var looks = {
    theme: (v) => v ? document.documentElement.dataset.theme = v : delete document.documentElement.dataset.theme,
    letters: (v) => document.documentElement.style.fontSize = v + "%",
    hand: (v) => document.documentElement.dataset.hand = v
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
  addEventListener("resize", () => state.dirty = true);
  document.documentElement.classList.add("scripts");
  choose(store.get("role", ""));
  listNotes(store.kept);
  turn("songs");
  requestAnimationFrame(frame);
})();
