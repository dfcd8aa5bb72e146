package rule

import (
	"cmp"
	"strings"

	"emberbeat/timeline"
)

// Ground is a number of the show that a finding compares with: a field of a
// record, what it says, and how well that is known.
type Ground struct {
	Ref    timeline.Ref
	Field  string
	Text   string // the value with its unit
	Mark   timeline.Mark
	Source string
}

// ofArticle grounds a finding on a field of an article.
func ofArticle(a *timeline.Article, field, text string) Ground {
	mark := cmp.Or(a.Mark, timeline.CommonPractice)
	for _, m := range a.Marks {
		if name, own, ok := strings.Cut(m, "="); ok && name == field {
			mark = timeline.Mark(own)
		}
	}
	return Ground{rigRef("article", a.ID), field, text, mark, a.Source}
}

// ofType grounds it on a field of a device type.
func ofType(t *timeline.DeviceType, field, text string) Ground {
	return Ground{rigRef("devicetype", t.ID), field, text, cmp.Or(t.Mark, timeline.CommonPractice), ""}
}

// ofRecord grounds it on a field of any other record, as somebody typed it.
func ofRecord(ref timeline.Ref, field, text string, mark timeline.Mark) Ground {
	return Ground{ref, field, text, mark, ""}
}

// with adds where a setting of the rule stands: in the show, or as the rule has
// it. A margin that nobody has set is nothing to speak of.
func (r *Rule) with(i int, t *tuning, grounds ...Ground) []Ground {
	n := t.numbers[i]
	if !n.own && n.time == 0 && n.plain == 0 {
		return grounds
	}
	return append(grounds, r.fromSetting(i, t))
}

func (r *Rule) fromSetting(i int, t *tuning) Ground {
	s := &r.Settings[i]
	text := t.numbers[i].text
	if s.Unit != "" {
		text += " " + s.Unit
	}
	g := Ground{rigRef("setting", timeline.ID(r.Name)), s.Name, text, s.Mark, s.Source}
	if t.numbers[i].own {
		g.Mark, g.Source = "", ""
	}
	return g
}
