// Reads a Standard MIDI File with npm's midi-file and says, a JSON object a line,
// where its tempos, time signatures and markers stand: tick, and exact
// microseconds as a fraction. The words are those of referee.py.
//
//     node referee.js FOLDER-OF-node_modules FILE
const fs = require("fs");
const path = require("path");
const { parseMidi } = require(path.join(process.argv[2], "node_modules", "midi-file"));

const midi = parseMidi(fs.readFileSync(process.argv[3]));
const quarter = BigInt(midi.header.ticksPerBeat);
const found = [];
for (const track of midi.tracks) {
  let tick = 0n;
  for (const e of track) {
    tick += BigInt(e.deltaTime);
    found.push({ tick, e });
  }
}
const tempos = found.filter((x) => x.e.type === "setTempo");
tempos.sort((a, b) => (a.tick < b.tick ? -1 : a.tick > b.tick ? 1 : 0));

// micros gives the microseconds of a tick, times the ticks of a quarter.
function micros(tick) {
  let at = 0n, last = 0n, tempo = 500000n;
  for (const t of tempos) {
    if (t.tick > tick) break;
    at += (t.tick - last) * tempo;
    last = t.tick;
    tempo = BigInt(t.e.microsecondsPerBeat);
  }
  return at + (tick - last) * tempo;
}

const gcd = (a, b) => (b === 0n ? a : gcd(b, a % b));
const words = { setTempo: "set_tempo", timeSignature: "time_signature", marker: "marker" };
for (const { tick, e } of found) {
  if (!words[e.type]) continue;
  const text = { setTempo: () => String(e.microsecondsPerBeat), timeSignature: () => e.numerator + "/" + e.denominator, marker: () => e.text }[e.type]();
  const at = micros(tick), g = gcd(at, quarter);
  console.log(JSON.stringify({ kind: words[e.type], tick: Number(tick), text, num: Number(at / g), den: Number(quarter / g) }));
}
