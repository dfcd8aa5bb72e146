// The stage from the front. Heights come as key points and are only interpolated
// here; shapes are drawn as the window draws them.

const SVG = "http://www.w3.org/2000/svg";

// heightAt gives how much of its height a hit has, of [look, hit, full, closed, gone].
export function heightAt(hit, at) {
  const [, from, full, closed, gone] = hit;
  if (at < from || at >= gone) return 0;
  if (at < full) return (at - from) / (full - from);
  if (at < closed) return 1;
  return (gone - at) / (gone - closed);
}

// standing lists what stands at a time: look, height, how much of its fall is over,
// and whether it is drawn as a figure, in stripes or as a line. With still nothing
// moves: what is open has its full height.
export function standing(stage, at, still) {
  const list = [];
  for (const row of stage.spells) {
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
      if (still && h > 0) h = at < hit[3] ? 1 : 0;
      if (h > height) [best, height] = [hit, h];
    }
    if (best) list.push({ look: best[0], height, fallen: best[4] > best[3] ? Math.min(1, Math.max(0, (at - best[3]) / (best[4] - best[3]))) : 0, how: flags & 2 ? "line" : flags & 1 ? "stripes" : "body" });
  }
  return list;
}

// place gives a point along a look's axis and across it.
const place = (l, along, across) => [l.x + l.ax * along - l.ay * across, l.y + l.ay * along + l.ax * across];
const half = (l, part) => l.root + l.grow * part;
const write = (points) => "M" + points.map((p) => p[0].toFixed(1) + " " + p[1].toFixed(1)).join("L");

// scatter gives a number from 0 to 1 that is always the same for two numbers.
function scatter(i, k) {
  let n = (Math.imul(i, 2654435761) ^ Math.imul(k, 40503)) >>> 0;
  n = (n ^ (n >>> 15)) >>> 0;
  n = Math.imul(n, 2246822519) >>> 0;
  n = (n ^ (n >>> 13)) >>> 0;
  return (n % 1000) / 1000;
}

function cone(l, a, b) {
  const p = half(l, a);
  const q = half(l, b);
  return write([place(l, a * l.long, p), place(l, b * l.long, q), place(l, b * l.long, -q), place(l, a * l.long, -p)]) + "z";
}

const LEAF = [0.25, 0.55, 0.88, 1, 0.95, 0.78, 0.55, 0.28, 0];

function leaf(l, long, wide) {
  const n = LEAF.length - 1;
  const up = LEAF.map((w, i) => place(l, (long * i) / n, wide * w));
  const down = LEAF.map((w, i) => place(l, (long * i) / n, -wide * w)).reverse();
  return write(up.concat(down)) + "z";
}

const square = (p, size) => "M" + p[0].toFixed(1) + " " + p[1].toFixed(1) + "h" + size + "v" + size + "h" + -size + "z";

function ellipse(x, y, a, b) {
  return "M" + (x - a).toFixed(1) + " " + y.toFixed(1) + "a" + a.toFixed(1) + " " + b.toFixed(1) + " 0 1 0 " + (2 * a).toFixed(1) + " 0a" + a.toFixed(1) + " " + b.toFixed(1) + " 0 1 0 " + (-2 * a).toFixed(1) + " 0z";
}

// figure gives the paths of a look at a height: what is filled, with its cover, and
// what is drawn as a line, with its width.
export function figure(l, height, fallen, floor) {
  const fill = [];
  const line = [];
  switch (l.shape) {
    case "line":
    case "stem": {
      const tip = place(l, l.long * height, 0);
      line.push([write([[l.x, l.y], tip]), 3, 0.8]);
      fill.push([ellipse(tip[0], tip[1], 5, 5), 1]);
      break;
    }
    case "burst": {
      let at = [l.x, l.y];
      if (l.rises) {
        at = place(l, l.long * height, 0);
        line.push([write([[l.x, l.y], at]), 1.5, 0.5]);
      }
      const r = l.burst * height;
      let d = "";
      for (let i = 0; i < 12; i++) {
        const a = (2 * Math.PI * i) / 12;
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
      for (let i = 0; i < 6; i++) fill.push([cone(l, (i / 6) * height, ((i + 1) / 6) * height), 1 - (0.7 * i) / 6]);
      break;
    case "sparks": {
      let d = "";
      for (let k = 1; k <= 9; k++) {
        const part = (height * k) / 9;
        for (let j = -3; j <= 3; j++) d += square(place(l, part * l.long * (1 - (0.05 * j * j) / 3), (half(l, part) * j) / 3), 2);
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
        const p = place(l, part * l.long, half(l, part) * (2 * b - 1));
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
          const p = place(l, down + 8 * scatter(across + 9999, down), across);
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

// edge gives the line around a look at a height.
export function edge(l, height) {
  switch (l.shape) {
    case "line":
      return write([[l.x, l.y], place(l, l.long * height, 0)]);
    case "burst": {
      const at = l.rises ? place(l, l.long * height, 0) : [l.x, l.y];
      return ellipse(at[0], at[1], l.burst * height, l.burst * height);
    }
    case "cloud":
      return ellipse(l.x, l.y - 0.3 * l.metre, 2 * l.metre, 0.3 * l.metre);
  }
  const b = half(l, height);
  return write([place(l, 0, -half(l, 0)), place(l, l.long * height, -b), place(l, l.long * height, b), place(l, 0, half(l, 0))]);
}

// Stage draws a song's stage into an element.
export class Stage {
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

  draw(at, still) {
    if (!this.data) return;
    const list = standing(this.data, at, still);
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
}

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
