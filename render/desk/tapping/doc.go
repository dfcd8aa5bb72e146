// Package tapping measures by taps how late sound is heard and how late the user taps.
//
// Its one rule: it tells what was tapped, the middle and the spread, and keeps nothing by itself; taps too uneven to mean anything are refused.
package tapping
