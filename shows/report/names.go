package report

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// UnitName names a placed effect, by its id where it has no name.
func UnitName(u *timeline.Unit) string { return cmp.Or(u.Placed.Name, string(u.Placed.ID)) }

// ArticleName names what a placed effect plays.
func ArticleName(u *timeline.Unit) string {
	if u.Article == nil {
		return "no article"
	}
	return cmp.Or(u.Article.Name, string(u.Article.ID))
}

// PositionName names where a placed effect stands.
func PositionName(u *timeline.Unit) string {
	if u.Position == nil {
		return "no position"
	}
	return cmp.Or(u.Position.Name, string(u.Position.ID))
}

// NameOf names a record of a kind, by its id where it has no name.
func NameOf(s *timeline.Show, kind string, id timeline.ID) string {
	k := timeline.KindOf(kind)
	if r := k.Find(s, "", id); r != nil && k.NameOf(r) != "" {
		return k.NameOf(r)
	}
	return string(id)
}

// UnitNameOf names a bank or device, by its id where it has no name.
func UnitNameOf(s *timeline.Show, id timeline.ID) string {
	if s.Rig.Bank(id) != nil {
		return NameOf(s, "bank", id)
	}
	return NameOf(s, "device", id)
}

// NameOr gives what the crew calls a record, or its id.
func NameOr(name string, id timeline.ID) string {
	if name != "" {
		return name
	}
	return string(id)
}

// OutOfService says which banks and devices that drive a unit are out of
// service; "" where none is.
func OutOfService(u *timeline.Unit) string {
	var names []string
	for _, d := range u.Drives {
		name := ""
		switch {
		case !d.Dead:
			continue
		case d.Bank != nil:
			name = cmp.Or(d.Bank.Name, string(d.Bank.ID))
		case d.Device != nil:
			name = cmp.Or(d.Device.Name, string(d.Device.ID))
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0] + " is out of service"
	}
	return strings.Join(names, ", ") + " are out of service"
}

// Labels joins the names of outputs without their values.
func Labels(outputs []Output) string {
	names := make([]string, len(outputs))
	for i := range outputs {
		names[i] = outputs[i].Label
	}
	return strings.Join(names, ", ")
}

// SongIn gives a song of a plan; nil where the plan does not play it.
func SongIn(p *timeline.Plan, song timeline.ID) *timeline.PlanSong {
	i := slices.IndexFunc(p.Songs, func(ps timeline.PlanSong) bool { return ps.Song.ID == song })
	if i < 0 {
		return nil
	}
	return &p.Songs[i]
}

// PositionNamed names a position of a show's stage; "" where there is none.
func PositionNamed(s *timeline.Show, id timeline.ID) string {
	if pos := s.Rig.Position(id); pos != nil {
		return cmp.Or(pos.Name, string(pos.ID))
	}
	return ""
}
