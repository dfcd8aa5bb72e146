// Package testsound has the signals, files and outside programs that tests of
// sound compare with.
//
// Its one rule: only tests import it.
package testsound
