// Times are whole ticks of 0.1 ms from the start of a song's audio. This module
// writes them as timecode, bars and countdowns, and reads what is typed.

export const TICKS = 10000; // a second

const two = (n) => String(n).padStart(2, "0");

// dayFrames is how many frames there are from midnight to midnight (SMPTE ST 12-1).
function dayFrames(rate) {
  const day = 24 * 3600 * rate.nominal;
  return rate.drop ? day - 2 * (24 * 60 - 24 * 6) : day;
}

// label writes a frame, counted from midnight, as timecode.
export function label(rate, frame) {
  const day = dayFrames(rate);
  let n = ((frame % day) + day) % day;
  if (rate.drop) {
    // Two labels are left out in each minute but every tenth.
    const tens = Math.floor(n / 17982);
    const rest = n % 17982;
    n += 18 * tens + (rest < 1800 ? 0 : 2 * (Math.floor((rest - 1800) / 1798) + 1));
  }
  const f = n % rate.nominal;
  const s = Math.floor(n / rate.nominal);
  return two(Math.floor(s / 3600)) + ":" + two(Math.floor(s / 60) % 60) + ":" + two(s % 60) + (rate.drop ? ";" : ":") + two(f);
}

// frameAt gives the frame that runs at a time of a song. What a tick of 0.1 ms
// rounds away at the start of a frame does not put it into the one before.
export function frameAt(song, at) {
  return song.frame + Math.floor(((at + 0.51) * song.rate.num) / (TICKS * song.rate.den));
}

// codeAt gives the timecode at a time of a song.
export const codeAt = (song, at) => label(song.rate, frameAt(song, at));

// timeOf gives when a timecode runs in a song, or null where it is none.
export function timeOf(song, text) {
  const m = /^\s*(\d{1,2})[:.](\d{1,2})[:.](\d{1,2})[:;.](\d{1,2})\s*$/.exec(text);
  if (!m) return null;
  const [h, min, s, f] = m.slice(1).map(Number);
  const { rate } = song;
  if (h > 23 || min > 59 || s > 59 || f >= rate.nominal) return null;
  if (rate.drop && f < 2 && s === 0 && min % 10 !== 0) return null;
  let frame = ((h * 60 + min) * 60 + s) * rate.nominal + f;
  if (rate.drop) frame -= 2 * (h * 60 + min - Math.floor((h * 60 + min) / 10));
  return Math.ceil(((frame - song.frame) * TICKS * rate.den) / rate.num - 0.5);
}

// upTo finds the last of a list of times that is not after one, the first where all are.
function upTo(list, at) {
  let lo = 0;
  let hi = list.length - 1;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (list[mid] <= at) lo = mid;
    else hi = mid - 1;
  }
  return lo;
}

// place finds bar and beat at a time, or null in a song without bars. index is the bar
// from 0, and part how much of the beat is over.
export function place(song, at) {
  const { bars, beats } = song;
  if (bars.length < 2) return null;
  const n = Math.min(upTo(beats, at), beats.length - 2);
  const index = Math.min(upTo(bars, n), bars.length - 2);
  return { bar: song.bar + index, beat: n - bars[index] + 1, index, part: (at - beats[n]) / (beats[n + 1] - beats[n]) };
}

// barText writes bar and beat, as in 61.1.
export function barText(song, at) {
  const p = place(song, at);
  return p ? p.bar + "." + p.beat : "";
}

// timeOfBar gives when a bar and beat, as in 61.1, begins, or null.
export function timeOfBar(song, text) {
  const m = /^\s*(-?\d{1,4})(?:\.(\d{1,2}))?\s*$/.exec(text);
  const { bars, beats } = song;
  if (!m || bars.length < 2) return null;
  const i = Number(m[1]) - song.bar;
  const beat = Number(m[2] || 1) - 1;
  if (i < 0 || i > bars.length - 2 || beat < 0 || beat >= bars[i + 1] - bars[i]) return null;
  return beats[bars[i] + beat];
}

// byBars gives the time some bars later, at the same beat or the last of a shorter
// bar; in a song without bars two seconds stand for one.
export function byBars(song, at, n) {
  const p = place(song, at);
  if (!p) return at + n * 2 * TICKS;
  const { bars, beats } = song;
  const to = p.index + n;
  if (to < 0) return 0;
  if (to > bars.length - 2) return song.duration;
  const beat = Math.min(bars[to] + p.beat - 1, bars[to + 1] - 1);
  return Math.round(beats[beat] + p.part * (beats[beat + 1] - beats[beat]));
}

// seconds writes a countdown: tenths, cut and never rounded up to more than is left.
export function seconds(ticks) {
  const t = Math.max(0, Math.floor(ticks / 1000));
  return t >= 600 ? Math.floor(t / 600) + ":" + two(Math.floor((t % 600) / 10)) : Math.floor(t / 10) + "." + (t % 10);
}
