package operation

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/snap"
)

// PlacingCues are the arguments of cues that are placed.
type PlacingCues struct {
	timeline.Placing
	Snapping
}

// placeOperations put cues into a song.
func placeOperations() []*Operation { return []*Operation{placeCues()} }

func placeCues() *Operation {
	type A = PlacingCues
	places := field.List("at", "where: bars, times or timecodes, separated by commas", func(a *A) *[]timeline.Position { return &a.At }, timeline.Position.String, timeline.ParsePosition)
	named := func(name, help string, at func(*A) *string, kinds ...string) field.Field {
		f := field.Text(name, help, at)
		f.Ref = kinds
		return f
	}
	level := field.Parsed("level", "percent (default: the article's)", func(a *A) *int { return &a.Level }, writeCount, func(s string) (int, error) {
		n, err := strconv.Atoi(cmp.Or(s, "0"))
		if err != nil {
			return 0, errors.New("must be a whole number of percent")
		}
		return n, nil
	})
	level.Type = field.WholeType
	return does(Operation{Verb: "place", On: "song", Menu: "Place cues…", Title: "Place cues", Button: "Place", Plays: true,
		Tip:  "places cues on a lane at bars, times or timecodes, once each or repeated; a lane that is not there is made",
		Help: "places cues on a lane, at instants at which the audience sees the effect",
		Args: append([]Argument{
			{Field: field.Text("lane", "lane, by name or id; made if missing and {target} is given", func(a *A) *string { return &a.Lane }), Label: "Lane", Hint: "its name; made if a target is chosen", Need: "no lane is chosen; add {lane} with its name or id"},
			{Field: places, Label: "At", Hint: "17.1, 1:02.5 or 03:01:22:10", Commas: true, Need: "no place is given; add {at} with bars such as 17.1 or times such as 1:02.5", read: readPosition},
			{Field: named("target", "placed effect or group, by name or id (default: the lane's)", func(a *A) *string { return &a.Target }, "group", "placed"), Label: "Target", read: asWritten},
			{Field: named("article", "article, by name or id (default: the lane's)", func(a *A) *string { return &a.Article }, "article"), Label: "Article", read: asWritten},
			{Field: optional("every", `repeat: "1bar", "2 beats", "0.5s"`, func(a *A) **timeline.Stride { return &a.Every }, timeline.Stride.String, timeline.ParseStride), Label: "Every", Hint: "1bar, 2 beats or 0.5s"},
			{Field: optional("until", "last place to repeat to, included", func(a *A) **timeline.Position { return &a.Until }, timeline.Position.String, timeline.ParsePosition), Label: "Until", Hint: "last place, included"},
			{Field: field.Parsed("open", "open time in seconds (default: the lane's or article's)", func(a *A) *timeline.Time { return &a.Open }, writeOpen, parseOpen), Label: "Open", Hint: "seconds"},
			{Field: level, Label: "Level", Hint: "percent"},
			{Field: field.Text("note", "note on each cue", func(a *A) *string { return &a.Note }), Label: "Note"},
		}, snapArgs(func(a *A) *Snapping { return &a.Snapping })...)},
		func(at At, a *A) (timeline.Edit, error) {
			if (a.Every == nil) != (a.Until == nil) {
				return nil, fmt.Errorf("{every} and {until} belong together")
			}
			in := a.Placing
			in.Song = at.On.ID
			x, err := a.targets(at, in.Song, snap.Off)
			if err != nil {
				return nil, err
			}
			if x != nil {
				in.Onto = func(g *timeline.Song, m timeline.Moment) (timeline.Moment, error) {
					to, ok := a.onto(x, g, m)
					if !ok {
						return m, fmt.Errorf("no hit is heard within %.4g ms of %s; nothing was placed", 1000*a.within().Seconds(), m)
					}
					return to.Moment(g.Beats, m.OnBeat), nil
				}
			}
			return at.Place(in, at.NewID), nil
		},
		func(_ *timeline.Show, a *A) string { return fmt.Sprintf("place cues on %q", a.Lane) })
}

// asWritten leaves a name to be found by the edit.
func asWritten(_ *timeline.Plan, text string) (field.Value, error) {
	return field.Value{Text: text}, nil
}

// readPosition reads a place as it is told apart in a song.
func readPosition(_ *timeline.Plan, text string) (field.Value, error) {
	_, err := timeline.ParsePosition(text)
	return field.Value{Text: text}, err
}

// writeOpen writes how long an effect stays open; 0 is not given.
func writeOpen(t timeline.Time) string {
	if t == 0 {
		return ""
	}
	return t.String()
}

func parseOpen(text string) (timeline.Time, error) {
	if text == "" {
		return 0, nil
	}
	return timeline.ParseTime(text)
}
