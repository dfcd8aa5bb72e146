// What the phone remembers for this show and night. Where it has no storage, as in a
// private window, everything works and nothing is remembered.

export class Store {
  constructor(key) {
    this.key = key;
    this.kept = true;
    try {
      localStorage.setItem(key + ":try", "1");
      localStorage.removeItem(key + ":try");
    } catch (e) {
      this.kept = false;
    }
    this.memory = new Map();
  }

  get(name, none) {
    let text = this.memory.get(name);
    if (text === undefined && this.kept) {
      try {
        text = localStorage.getItem(this.key + ":" + name);
      } catch (e) {
        text = null;
      }
    }
    if (text === undefined || text === null) return none;
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
}
