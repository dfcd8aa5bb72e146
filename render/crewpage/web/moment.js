// What the plan has at a moment of a song, as the calling view tells it. It is a
// function of song and time alone.

export const LISTED = 4; // cues below the next one

// look gives what comes, what stands open and what is planned up. only chooses cues;
// without it all count.
export function look(song, at, only) {
  const m = { at, next: -1, in: 0, drain: 0, after: [], open: [], arms: [], part: 0 };
  const { cues, parts } = song;
  while (m.part + 1 < parts.length && parts[m.part + 1].from <= at) m.part++;
  for (let i = first(cues, at); i < cues.length && m.after.length < LISTED; i++) {
    if (only && !only(cues[i])) continue;
    if (m.next < 0) {
      m.next = i;
      m.in = cues[i].cmd - at;
      m.drain = Math.min(1, m.in / Math.max(cues[i].drain, 1));
    } else m.after.push(i);
  }
  for (let i = 0; i < cues.length && cues[i].cmd <= at; i++) {
    if (at < cues[i].end && (!only || only(cues[i]))) m.open.push(i);
  }
  m.arms = song.arms.map((arm) => armAt(arm, at));
  return m;
}

// first finds the first cue whose command is still to come.
function first(cues, at) {
  let lo = 0;
  let hi = cues.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
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
