// Where the song is: the sound's own time where there is sound, else a clock of the
// phone. Nothing here gives the time to anything outside of the page.

import { TICKS } from "./time.js";

export class Clock {
  // sound is an audio element; ended is called when the song is over.
  constructor(sound, ended) {
    this.sound = sound;
    this.ended = ended;
    this.song = null;
    this.heard = false; // the sound counts
    this.running = false;
    this.held = 0; // ticks at which it stands, or stood when it was started
    this.begun = 0; // ms of the phone's clock then
    this.loop = null;
    sound.addEventListener("ended", () => this.stop());
    sound.addEventListener("error", () => {
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
    return Math.round(this.held + ((performance.now() - this.begun) * TICKS) / 1000);
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
}
