package sheet

import (
	"emberbeat/render/paper"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// Told gives a show as a sheet of a format tells it: on paper and in CSV in the show's own units, whoever prints and whatever that person reads
// on the screen; in JSON, which programs read, in metres.
func Told(s *timeline.Show, format string) *timeline.Show {
	if format == "json" {
		return s.ToldIn(units.Metres)
	}
	return s.ToldItsOwn()
}

// PaperOf gives the paper that a show is printed on where nobody names one: that of the place where its units are used.
func PaperOf(s *timeline.Show) paper.Size {
	if s.Head.Units == units.Feet {
		return paper.Letter
	}
	return paper.A4
}

// PaperNamed finds a paper by its name; "" is that of the show.
func PaperNamed(s *timeline.Show, name string) (paper.Size, error) {
	if name == "" {
		return PaperOf(s), nil
	}
	return paper.SizeNamed(name)
}
