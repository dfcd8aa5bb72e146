// Package figure holds the planning figures that a model of a stage is worked
// out with: where an effect points and how far it reaches, what a throw, a
// flame, falling paper, gas and current come to. Its one rule: numbers in,
// numbers out. It knows no record, no show and no rule; every number that is a
// judgement, a memory or common practice is an argument, so that whoever asks
// can say where it comes from. What remains in the code is physics, units and
// mathematics.
//
// The stage frame: the origin is the middle of the stage's front edge on the
// stage floor, X goes to the audience's right, Y upstage, Z up. Metres, seconds,
// kilograms, kilowatts, amperes, volts and ohms; angles in degrees.
//
// Marks beside a formula: S published and read, M from memory of a named
// document, C common practice without a source, D derived here, J our
// judgement. All of these figures find what is worth a look; none says that
// anything may be done.
package figure
