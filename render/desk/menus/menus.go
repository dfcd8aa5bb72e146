package menus

import (
	"slices"
	"strings"
)

// Line is a line of a menu: a head, a command, or a menu beside it.
type Line struct {
	Head    string
	Command string
	Name    string // of the menu beside it
	Sub     []Line
}

// part is a stretch of a menu, as it is written down: names of commands, "name*" for all that begin so and stand nowhere else; of a menu beside it
// with its name.
type part struct {
	head string
	list []string
	subs []sub // stand below the list
}

type sub struct {
	name string
	list []string
}

func words(text string) []string { return strings.Fields(text) }

// plans are the menus, by the name of their group. Each leaves a line for what comes later.
var plans = map[string][]part{
	"Show": {
		{"A show", words("new-show open-show open-example save saves close-show"), nil},
		{"In and out", words("import relink export"), []sub{{"Export more", words("export-*")}, {"With others", words("import-notes merge compare-* edit-copy")}}},
		{"The program", words("preferences quit"), nil}},
	"Edit": {
		{"Steps", words("undo redo"), nil},
		{"What is chosen", words("cut copy paste duplicate delete"), []sub{{"Choose", words("select-*")}, {"Paste and take out", words("paste-* remove-time")}}},
		{"Words and values", words("find find-next edit-values rename"), []sub{{"Order and history", words("song-earlier song-later history-go")}}}},
	"Cue": {
		{"Place", words("place tap"), []sub{{"Tap into a lane", words("tap-*")}, {"Place more", words("place-cues arms phrase marker section")}}},
		{"These cues", words("quantise group ungroup lock disable"), []sub{{"Move", words("nudge-* lane-above lane-below")}}},
		{"All of it", nil, []sub{{"Lanes", words("add-lane lock-lane lock-others unlock-lanes")}, {"Beats", words("beat-strip grid-*")}, {"Songs and versions", words("copy-cues arrange-*")},
			{"Recordings and findings", words("carry carry-* bring-back confirm-cues fix fix-all accept")}}}},
	"Play": {
		{"Play", words("play stop play-selection"), nil},
		{"Loop", words("loop loop-selection"), []sub{{"Ends of the loop", words("loop-start loop-end")}}},
		{"Sound", words("click half-speed"), nil},
		{"Lanes", words("arm-lane mute solo"), []sub{{"Other lanes", words("hide-others show-lanes")}, {"Calling and timecode", words("call-* take-timecode")}}}},
	"Go": {
		{"Playhead", words("go-to mark-back mark-on song-start song-end"), []sub{{"By frames, beats and pages", words("frame-* beat-* page-*")}}},
		{"Songs", words("song-back song-on"), []sub{{"First, last, values", words("song-*")}}},
		{"Cues and findings", words("cue-on cue-back finding-on finding-back"), []sub{{"Lanes and all cues", words("lane-* cue-*")}}}},
	"Book": {
		{"The book", words("book book-on book-back"), nil},
		{"Its parts", nil, []sub{{"Stock", words("book-articles book-devicetypes book-slots book-banktypes stock-* retire measure slots slot-*")}, {"Rig and phrases", words("book-placed book-positions book-groups book-supplies book-phrases group-* phrase-* feed refill drawing-* rows-put")},
			{"Patch and wiring", words("book-banks book-devices book-universes book-outputs book-circuits book-counts patch-* bank-swap wire-* unwire")},
			{"Sets", words("book-sets book-timecode set-new set-copy set-remove set-play set-songs set-paste set-take")}, {"Running order and whole set", words("book-set-view set-*")},
			{"Venues", words("book-venues venue-new venue-copy venue-remove venue-plan venue-trim venue-line venue-performer venue-clear venue-quiet venue-picture venue-back")}, {"Permits and rule sets", words("venue-* ruleset-*")},
			{"Nights", words("book-nights book-tonight book-calling night-* aftershow")}, {"Stage plan", words("book-stage-plan stage-*")},
			{"Checks and tables", words("book-findings book-rules book-conflicts book-list book-history rule-* conflict-* row-* columns")}, {"New recordings", words("book-carry carry-*")}}}},
	"View": {
		{"Time", words("zoom-in zoom-out zoom-song follow"), []sub{{"Zoom, snap and grid", words("zoom-* snap grid-* free-lanes")}}},
		{"Stage", words("stage-turn stage-large"), []sub{{"On stage", words("stage-* still")}}},
		{"Panels", words("findings side"), []sub{{"Records and focus", words("records panel-* timeline")}}},
		{"Window", words("theme"), []sub{{"Size, light and night", words("full-screen larger smaller dimmer brighter counters night set")}}}},
}

// More is the name of the menu that holds what no other does.
const More = "More"

// Arrange gives the lines of a menu for the commands of its group.
func Arrange(group string, commands []string) []Line {
	left := slices.Clone(commands)
	named := map[string]bool{}
	for _, p := range plans[group] {
		for _, name := range p.list {
			named[name] = true
		}
		for _, s := range p.subs {
			for _, name := range s.list {
				named[name] = true
			}
		}
	}
	take := func(list []string) (lines []Line) {
		for _, name := range list {
			head, wild := strings.CutSuffix(name, "*")
			left = slices.DeleteFunc(left, func(c string) bool {
				if hit := c == name || wild && strings.HasPrefix(c, head) && !named[c]; !hit {
					return false
				}
				lines = append(lines, Line{Command: c})
				return true
			})
		}
		return lines
	}
	var lines []Line
	for _, p := range plans[group] {
		part := take(p.list)
		for _, s := range p.subs {
			if below := take(s.list); len(below) > 0 {
				part = append(part, Line{Name: s.name, Sub: below})
			}
		}
		if len(part) > 0 {
			lines = append(append(lines, Line{Head: p.head}), part...)
		}
	}
	var rest []Line
	for _, c := range left {
		rest = append(rest, Line{Command: c})
	}
	switch {
	case len(rest) == 0:
	case len(lines) == 0:
		return rest
	default:
		lines = append(lines, Line{Name: More, Sub: rest})
	}
	return lines
}
