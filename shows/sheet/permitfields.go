package sheet

import (
	"strings"

	"emberbeat/timeline"
)

// PermitField is one entry of the form; an empty text is a line to write on.
type PermitField struct {
	Group string `json:"group"`
	Label string `json:"label"`
	Text  string `json:"text"`
}

// permitField is where an entry's text comes from; nil = the show does not hold
// it, and it is written by hand.
type permitField struct {
	group, label string
	of           func(*timeline.Plan) string
}

// The groups of the form.
const (
	eventGroup   = "Event and place"
	peopleGroup  = "People and papers"
	storageGroup = "Storage and assembly"
	siteGroup    = "Site"
)

var permitForm = []permitField{
	{eventGroup, "event", func(p *timeline.Plan) string { return p.Show.Head.Title }},
	{eventGroup, "artist", func(p *timeline.Plan) string { return p.Show.Head.Artist }},
	{eventGroup, "sponsor", nil},
	{eventGroup, "date", func(p *timeline.Plan) string { return HeadOf(p).Date }},
	{eventGroup, "times of rehearsal, doors, show and end", nil},
	{eventGroup, "exact place", venueLine},
	{peopleGroup, "operator in charge", nil},
	{peopleGroup, "operator's licence: number, class, expiry", nil},
	{peopleGroup, "operator's experience", nil},
	{peopleGroup, "assistants, with their ages", nil},
	{peopleGroup, "permits held: number, authority, expiry", nil},
	{peopleGroup, "insurance: insurer, policy, sum, expiry", nil},
	{storageGroup, "storage: place, container, locked by", nil},
	{storageGroup, "on-site assembly: where, when, by whom", nil},
	{storageGroup, "transport and what is left after the show", nil},
	{siteGroup, "ventilation during and after", airOf},
	{siteGroup, "fire detectors: which zones are isolated, from when to when, by whom", nil},
	{siteGroup, "proof that set, drapes and costumes are flame-retardant", nil},
	{siteGroup, "safety data sheets: where they lie", nil},
	{siteGroup, "extinguishers: kind, number, posts", nil},
	{siteGroup, "exits and crowd barriers", nil},
	{siteGroup, "control position, and spotters with what they see", nil},
	{siteGroup, "fire watch: who, from when until how long after", nil},
	{siteGroup, "wind limit and where wind is measured", windOf},
}

func permitFields(p *timeline.Plan) []PermitField {
	list := make([]PermitField, len(permitForm))
	for i, f := range permitForm {
		list[i] = PermitField{Group: f.group, Label: f.label}
		if f.of != nil {
			list[i].Text = f.of(p)
		}
	}
	return list
}

func venueLine(p *timeline.Plan) string {
	if p.Venue == nil {
		return ""
	}
	parts := []string{nameOr(p.Venue.Name, p.Venue.ID)}
	if p.Venue.Place != "" {
		parts = append(parts, p.Venue.Place)
	}
	return strings.Join(parts, ", ")
}

func airOf(p *timeline.Plan) string {
	v := p.Venue
	if v == nil || v.Volume == 0 && v.AirChanges == 0 {
		return ""
	}
	var parts []string
	if v.Volume > 0 {
		parts = append(parts, plain(v.Volume)+" m³")
	}
	if v.AirChanges > 0 {
		parts = append(parts, plain(v.AirChanges)+" air changes an hour")
	} else {
		parts = append(parts, "air changes not given")
	}
	return strings.Join(parts, ", ")
}

func windOf(p *timeline.Plan) string {
	if p.Venue == nil || p.Venue.Wind == 0 {
		return ""
	}
	return plain(p.Venue.Wind) + " m/s at the venue"
}
