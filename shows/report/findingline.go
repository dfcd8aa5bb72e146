package report

import (
	"encoding/json"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// findingLine puts one finding into words.
func findingLine(names *timeline.Names, p *timeline.Plan, f *rule.Finding, places Places) FindingLine {
	l := FindingLine{
		Rule: f.Rule, Severity: f.Severity, Song: string(f.Song), SongNumber: f.Number, Record: f.Ref.String(), Text: f.Text, Help: f.Help,
		Others: []string{}, Values: []FindingValue{}, Why: []Ground{}, Digest: f.Digest(), spans: f.Spans, named: namedIn(names, p, f.Ref),
	}
	if f.Ref.Kind == "cue" {
		l.Cue = string(f.Ref.ID)
	}
	for _, o := range f.Others {
		l.Others = append(l.Others, o.String())
	}
	l.File, l.Line = fileOf(places, f.Ref)
	l.inSong(p, f)
	for _, v := range f.Values {
		l.Values = append(l.Values, findingValue(v))
	}
	for _, g := range f.Grounds {
		l.Why = append(l.Why, ground(names, p, g, places))
	}
	if f.Fix != nil {
		l.Fix = f.Fix.Label
	}
	if f.Accepted != nil {
		l.Accepted = &AcceptedBy{f.Accepted.By, f.Accepted.Reason}
	}
	return l
}

// inSong fills in song, bar and timecode.
func (l *FindingLine) inSong(p *timeline.Plan, f *rule.Finding) {
	for i := range p.Songs {
		if ps := &p.Songs[i]; ps.Number == f.Number && ps.Song.ID == f.Song {
			l.song, l.SongTitle = ps, ps.Song.FullTitle()
		}
	}
	if !f.HasTime {
		return
	}
	at := wording.Seconds(f.At)
	l.Time, l.Timecode = &at, p.Rate.Label(f.Frame)
	if f.HasBar {
		l.place, l.Bar = f.Place(), f.Bar.String()
	}
}

func fileOf(places Places, r timeline.Ref) (string, int) {
	if places == nil {
		return "", 0
	}
	return places.Place(r)
}

func findingValue(v rule.Value) FindingValue {
	if v.Number {
		return FindingValue{v.Name, json.Number(v.Text), v.Unit}
	}
	return FindingValue{v.Name, v.Text, v.Unit}
}

func ground(names *timeline.Names, p *timeline.Plan, g rule.Ground, places Places) Ground {
	file, line := fileOf(places, g.Ref)
	return Ground{Record: g.Ref.String(), Field: g.Field, Value: g.Text, Mark: string(g.Mark), Source: g.Source, File: file, Line: line, named: namedIn(names, p, g.Ref)}
}

// namedIn names a record of a plan. A wire that the night alone has, since something
// is plugged in for it, is in no file and has no name: what is found of it says where.
func namedIn(names *timeline.Names, p *timeline.Plan, r timeline.Ref) string {
	if r.Kind == "wire" && p.Night != nil && timeline.KindOf(r.Kind).Find(p.Show, "", r.ID) == nil {
		return "wire of the night"
	}
	return names.NamedRef(r)
}
