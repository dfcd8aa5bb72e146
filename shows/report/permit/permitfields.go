package permit

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Field is one entry of the form; an empty text is a line to write on.
type Field struct {
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
	EventGroup   = "Event and place"
	PeopleGroup  = "People and papers"
	StorageGroup = "Storage and assembly"
	SiteGroup    = "Site"
)

var permitForm = []permitField{
	{EventGroup, "event", func(p *timeline.Plan) string { return p.Show.Head.Title }},
	{EventGroup, "artist", func(p *timeline.Plan) string { return p.Show.Head.Artist }},
	{EventGroup, "sponsor", sponsorOf},
	{EventGroup, "date", func(p *timeline.Plan) string { return report.HeadOf(p).Date }},
	{EventGroup, "times of rehearsal, doors, show and end", ofNight(func(n *timeline.Night) string { return strings.Join(n.Times, "; ") })},
	{EventGroup, "exact place", venueLine},
	{PeopleGroup, "company that answers for the effects", func(p *timeline.Plan) string { return p.Show.Head.Company }},
	{PeopleGroup, "operator in charge", crewOf(timeline.Operator, func(p *timeline.Person) string { return p.Name })},
	{PeopleGroup, "operator's licence: number, class, expiry", crewOf(timeline.Operator, licenceOf)},
	{PeopleGroup, "operator's experience", crewOf(timeline.Operator, func(p *timeline.Person) string { return p.Experience })},
	{PeopleGroup, "assistants, with their ages", crewOf(timeline.Assistant, withAge)},
	{PeopleGroup, "spotters, with their ages", crewOf(timeline.Spotter, withAge)},
	{PeopleGroup, "officer of the authority", crewOf(timeline.Authority, func(p *timeline.Person) string { return p.Name })},
	{PeopleGroup, "permits held: number, authority, expiry", permitsOf},
	{PeopleGroup, "insurance: insurer, policy, expiry", func(p *timeline.Plan) string { return papers(p.Show.Head.Insurance) }},
	{PeopleGroup, "notice to the authority: when due, when given", noticeOf},
	{StorageGroup, "storage: place, container, locked by", ofVenue(func(v *timeline.Venue) string { return v.Storage })},
	{StorageGroup, "on-site assembly: where, when, by whom", ofVenue(func(v *timeline.Venue) string { return v.Assembly })},
	{StorageGroup, "transport, and what is left after the show", nil},
	{SiteGroup, "ventilation during and after", airOf},
	{SiteGroup, "fire detectors: which are isolated, from when to when, by whom", ofVenue(func(v *timeline.Venue) string { return v.Detectors })},
	{SiteGroup, "proof that set, drapes and costumes are flame-retardant", func(p *timeline.Plan) string { return strings.Join(p.Show.Head.FlameProof, "; ") }},
	{SiteGroup, "cloths, borders, screens and set on the plan", ofVenue(func(v *timeline.Venue) string { return wallNames(v.Cloths) })},
	{SiteGroup, "safety data sheets: where they lie", nil},
	{SiteGroup, "extinguishers: kind, number, posts", ofVenue(func(v *timeline.Venue) string { return markNames(v.Extinguisher) })},
	{SiteGroup, "exits", ofVenue(func(v *timeline.Venue) string { return markNames(v.Exits) })},
	{SiteGroup, "control position", ofVenue(func(v *timeline.Venue) string { return markNames(v.Control) })},
	{SiteGroup, "spotters' posts, and what they see", ofVenue(func(v *timeline.Venue) string { return markNames(v.SpotterMarks) })},
	{SiteGroup, "fire watch: who, from when until how long after", ofVenue(fireWatch)},
	{SiteGroup, "wind limit, and where wind is measured", windOf},
}

func permitFields(p *timeline.Plan) []Field {
	list := make([]Field, len(permitForm))
	for i, f := range permitForm {
		list[i] = Field{Group: f.group, Label: f.label}
		if f.of != nil {
			list[i].Text = f.of(p)
		}
	}
	return list
}

// ofNight and ofVenue read a record that a plan may not have.
func ofNight(text func(*timeline.Night) string) func(*timeline.Plan) string {
	return func(p *timeline.Plan) string {
		if p.Night == nil {
			return ""
		}
		return text(p.Night)
	}
}

func ofVenue(text func(*timeline.Venue) string) func(*timeline.Plan) string {
	return func(p *timeline.Plan) string {
		if p.Venue == nil {
			return ""
		}
		return text(p.Venue)
	}
}

// crewOf says something of everybody who has a role tonight; where nothing is
// known of anybody, it is left to be written.
func crewOf(role timeline.Role, text func(*timeline.Person) string) func(*timeline.Plan) string {
	return func(p *timeline.Plan) string {
		var parts []string
		for _, person := range p.Crew() {
			if t := text(person); person.Role == role && t != "" {
				parts = append(parts, t)
			}
		}
		return strings.Join(parts, "; ")
	}
}

func licenceOf(p *timeline.Person) string {
	if p.Licence == "" {
		return ""
	}
	text := wording.JoinGiven(", ", p.Licence, p.LicenceKind, wording.Prefixed("by ", p.LicenceBy))
	if p.Expires == "" {
		return text + ", expiry not given"
	}
	return text + ", until " + p.Expires
}

func withAge(p *timeline.Person) string {
	if p.Age == 0 {
		return p.Name + " (age not given)"
	}
	return p.Name + " (" + strconv.Itoa(p.Age) + ")"
}

func sponsorOf(p *timeline.Plan) string {
	if p.Night != nil && p.Night.Sponsor != "" {
		return p.Night.Sponsor
	}
	return p.Show.Head.Sponsor
}

func venueLine(p *timeline.Plan) string {
	if p.Venue == nil {
		return ""
	}
	return wording.JoinGiven(", ", p.Called(p.Venue), p.Venue.Address, p.Venue.Place)
}

func permitsOf(p *timeline.Plan) string {
	var list []timeline.Permit
	if p.Night != nil {
		list = append(list, p.Night.Permits...)
	}
	if p.Venue != nil {
		list = append(list, p.Venue.Permits...)
	}
	return papers(list)
}

func papers(list []timeline.Permit) string {
	parts := make([]string, len(list))
	for i, x := range list {
		parts[i] = wording.JoinGiven(", ", x.Name, wording.Prefixed("number ", x.Number), wording.Prefixed("by ", x.By), wording.Prefixed("until ", x.Until))
	}
	return strings.Join(parts, "; ")
}

func noticeOf(p *timeline.Plan) string {
	if p.Night == nil || p.Venue == nil || p.Venue.Notice.Days == 0 {
		return ""
	}
	text := wording.JoinGiven(" to ", p.Venue.Notice.String(), p.Venue.NoticeTo)
	if night, ok := timeline.ParseDay(p.Night.Date); ok {
		text += ", last day " + p.Venue.Notice.LastDay(night).String()
	}
	if p.Night.Notified == "" {
		return text + ", not given yet"
	}
	return text + ", given on " + p.Night.Notified
}

func airOf(p *timeline.Plan) string {
	v := p.Venue
	if v == nil || v.Volume == 0 && v.AirChanges == 0 && v.Ventilation == "" {
		return ""
	}
	volume, air := "", "air changes not given"
	if v.Volume > 0 {
		volume = p.Show.Told().Say("m³", wording.RoundGrams(v.Volume), -1)
	}
	if v.AirChanges > 0 {
		air = wording.Plain(v.AirChanges) + " air changes an hour"
	}
	return wording.JoinGiven(", ", v.Ventilation, volume, air)
}

func markNames(marks []timeline.PlanMark) string {
	names := make([]string, len(marks))
	for i, m := range marks {
		names[i] = m.Name
	}
	return strings.Join(names, "; ") // a name may hold a comma
}

func wallNames(list []timeline.PlanWall) string {
	names := make([]string, len(list))
	for i, l := range list {
		names[i] = l.Name
	}
	return strings.Join(names, "; ")
}

func fireWatch(v *timeline.Venue) string {
	if v.FireWatch == 0 {
		return ""
	}
	return fmt.Sprintf("until %s min after the last effect", wording.Plain(v.FireWatch))
}

func windOf(p *timeline.Plan) string {
	if p.Venue == nil || p.Venue.Wind == 0 {
		return ""
	}
	return p.Show.Told().Say("m/s", wording.RoundGrams(p.Venue.Wind), -1) + " at the venue"
}
