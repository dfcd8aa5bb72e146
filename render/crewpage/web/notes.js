// Notes that somebody writes at a moment of a song: kept on the phone, and written
// into a small file that `import SHOW notes` reads.

export const FORMAT = 1;

export class Notes {
  constructor(store, page) {
    this.store = store;
    this.page = page;
    const list = store.get("notes", []);
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
}

// newNote gives a note at a time of a song. Its id tells it from others, so that a
// file that is read twice brings it once.
export function newNote(song, at, bar, code, text, by) {
  const random = new Uint32Array(3);
  crypto.getRandomValues(random);
  return { id: "note-" + Array.from(random, (n) => n.toString(36)).join(""), song: song.id, at, bar, code, text: text.trim(), by: by.trim() };
}
