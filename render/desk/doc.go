// Package desk is the window: the one room that knows Ebitengine and the sound device. It draws scenes on the GPU, turns keys, pointer and
// dropped files into the input of package app, and hands that package a clipboard, a sound device and a way to be woken.
//
// Its one rule: nothing is decided here. What the window holds, does and shows stands in package app, which needs no screen.
//
// Start with Run.
package desk
