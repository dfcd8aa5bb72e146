package report

import (
	"slices"
	"strings"

	"emberbeat/timeline"
)

// ArticleName names what a placed effect plays.
func ArticleName(u *timeline.Unit) string {
	if u.Article == nil {
		return "no article"
	}
	return u.Called(u.Article)
}

// PositionName names where a placed effect stands.
func PositionName(u *timeline.Unit) string {
	if u.Position == nil {
		return "no position"
	}
	return u.Called(u.Position)
}

// OutOfService says which banks and devices that drive a unit are out of
// service; "" where none is.
func OutOfService(u *timeline.Unit) string {
	var names []string
	for _, d := range u.Drives {
		if !d.Dead {
			continue
		}
		if !slices.Contains(names, d.Name) {
			names = append(names, d.Name)
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

// VersionIn gives the song that a plan plays where another plan plays a song: the
// same one, else another version of it that the other plan does not play; nil where
// there is none.
func VersionIn(p, other *timeline.Plan, song timeline.ID) *timeline.PlanSong {
	if ps := SongIn(p, song); ps != nil {
		return ps
	}
	for i := range p.Songs {
		if ps := &p.Songs[i]; SongIn(other, ps.Song.ID) == nil && (p.Show.SameSong(song, ps.Song.ID) || other.Show.SameSong(song, ps.Song.ID)) {
			return ps
		}
	}
	return nil
}

// PositionNamed names a position of a show's stage; "" where there is none.
func PositionNamed(s *timeline.Show, id timeline.ID) string {
	if pos := s.Rig.Position(id); pos != nil {
		return s.Called(pos)
	}
	return ""
}
