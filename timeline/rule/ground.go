package rule

import (
	"cmp"

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
	return Ground{rigRef("article", a.ID), field, text, a.MarkOf(field), a.Source}
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
func (r *Rule) with(name Named, t *tuning, grounds ...Ground) []Ground {
	n := t.of(name)
	if !n.own && n.time == 0 && n.plain == 0 {
		return grounds
	}
	return append(grounds, r.fromSetting(name, t))
}

// fromSetting grounds a finding on a setting of the rule.
func (r *Rule) fromSetting(name Named, t *tuning) Ground {
	return r.settingGround(int(t.places[name]), t)
}

func (r *Rule) settingGround(i int, t *tuning) Ground {
	s := &r.Settings[i]
	text := t.said(i, s.Unit)
	g := Ground{rigRef("setting", timeline.ID(r.Name)), s.Name, text, s.Mark, s.Source}
	if t.numbers[i].own {
		g.Mark, g.Source = "", ""
	}
	return g
}

// SettingOf gives the number of a rule's setting as a show has it, with where it
// comes from. It is for what a rule's estimate is shown by; a setting that says
// so by a field of a record has no number of its own.
func SettingOf(s *timeline.Show, rule, setting string) (float64, Ground) {
	return SettingIn(s, nil, rule, setting)
}

// SettingIn is SettingOf where the rule is looked at in one song, which the
// show's setting may be limited to.
func SettingIn(s *timeline.Show, song *timeline.Song, rule, setting string) (float64, Ground) {
	r := &table[indexOf(rule)]
	k := settingsOf(r, s.Setting(rule), s.Told())
	t := k.at(song, nil, nil)
	i := r.place(setting)
	if i < 0 {
		panic("rule " + rule + " has no number of its own that is called " + setting)
	}
	return t.numbers[i].plain, r.settingGround(i, t)
}
