// Package audio turns a song's file into samples and samples into what the
// rest of the program needs of them: peaks, loudness, identity, and streams to
// play.
//
// Its one rule: every format comes out alike. A Source gives the frames that
// the musician exported, no encoder delay before them and no padding after
// them, as interleaved float32 at full scale ±1, so that a time counted in
// frames means the same instant whatever the container.
package audio
