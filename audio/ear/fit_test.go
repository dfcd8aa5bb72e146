//go:build fit

package ear

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// The penalties are the strength at which the choices for songs left out were
// as good as at half and at double of it: no fine tuning.
const (
	beatPenalty = 10.0
	barPenalty  = 6.0
)

// weightOf says what a song counts: the made ones are many and alike; those in
// 6/8 and 12/8 are few, and nearly all there are.
func weightOf(s *taught) float64 {
	switch {
	case s.real:
		return 3
	case s.check:
		return 1
	case s.compound:
		return 0.3
	}
	return 0.15
}

func choices(songs []*taught, of func(*taught) *choice) []*choice {
	return slices.DeleteFunc(side(songs, of), func(c *choice) bool { return c == nil })
}

// family is where a checked song comes from: the first word of its name.
func family(s *taught) string { return strings.SplitN(s.id, "-", 2)[0] }

func alone(s *taught) string { return s.id }

// leftOut reports what is chosen for the checked songs by weights that were
// fitted without the song, or without all songs of its group.
func leftOut(t *testing.T, name string, cs []*choice, penalty float64, group func(*taught) string) {
	var groups []string
	for _, c := range cs {
		if g := group(c.song); c.song.check && !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	s := scaleOf(cs)
	fitted := side(groups, func(g string) []float64 {
		return learn(t, slices.DeleteFunc(slices.Clone(cs), func(c *choice) bool { return c.song.check && group(c.song) == g }), s, weightOf, penalty)
	})
	report := func(which string, in func(*taught) bool) {
		n, right, y := 0, 0, 0.0
		var wrong []string
		for _, c := range cs {
			if !c.song.check || !in(c.song) {
				continue
			}
			n++
			pick := c.chosen(fitted[slices.Index(groups, group(c.song))])
			y += c.y[pick]
			if c.right(pick) {
				right++
			} else {
				wrong = append(wrong, fmt.Sprintf("%s (%.4g in %.4g)", c.song.id, c.bpm[pick], c.song.bpm))
			}
		}
		if n > 0 {
			fmt.Printf("%s, %s: %d of %d right, F %.3f; wrong: %s\n", name, which, right, n, y/float64(n), strings.Join(wrong, ", "))
		}
	}
	report("all", func(*taught) bool { return true })
	report("real recordings", func(s *taught) bool { return s.real })
}

// acrossStyles reports how many of the made songs are right with weights from
// the other made songs, fold by fold.
func acrossStyles(t *testing.T, name string, cs []*choice, penalty float64) {
	s := scaleOf(cs)
	const folds = 5
	right, all := map[string]int{}, map[string]int{}
	var kinds []string
	for k := range folds {
		var in []*choice
		for i, c := range cs {
			if i%folds != k || c.song.check {
				in = append(in, c)
			}
		}
		w := learn(t, in, s, weightOf, penalty)
		for i, c := range cs {
			if i%folds != k || c.song.check {
				continue
			}
			if all[c.song.kind]++; all[c.song.kind] == 1 {
				kinds = append(kinds, c.song.kind)
			}
			if c.right(c.chosen(w)) {
				right[c.song.kind]++
			}
		}
	}
	slices.Sort(kinds)
	fmt.Printf("%s, made songs:", name)
	for _, k := range kinds {
		fmt.Printf(" %s %d/%d", k, right[k], all[k])
	}
	fmt.Println()
}

// TestFit makes the songs, fits the weights, says how well they do on songs
// left out, and writes them where EMBERBEAT_WRITE_WEIGHTS=1 says so.
func TestFit(t *testing.T) {
	songs := append(checkSongs(t), madeSongs(t)...)
	songs = append(songs, grooveSongs(t)...)
	fit := func(name, file, about string, of func(*taught) *choice, penalty float64) {
		cs := choices(songs, of)
		leftOut(t, name+" with the song left out", cs, penalty, alone)
		leftOut(t, name+" with its family left out", cs, penalty, family)
		acrossStyles(t, name, cs, penalty)
		if os.Getenv("EMBERBEAT_WRITE_WEIGHTS") == "1" {
			writeWeights(t, file, name+"Weights", about, learn(t, cs, scaleOf(cs), weightOf, penalty))
		}
	}
	fit("tactus", "tactusweights.go", `tactusWeights weigh the features of a reading in the order of describe. They
// are fitted by logistic regression (a choice among the readings of a song) with
// a penalty on their squares, to 532 made songs and the 43 of eval-ear.`, beatChoice, beatPenalty)
	fit("bar", "barweights.go", `barWeights weigh the features of a barring in the order of describe, fitted
// like tactusWeights to the songs whose bars are known.`, barChoice, barPenalty)
}
