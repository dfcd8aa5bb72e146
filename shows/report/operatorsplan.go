package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// PaperOnly stands on every operator's plan.
const PaperOnly = "PAPER ONLY: the keys are numbers on this page. Nothing here is connected to anything, and no key fires, arms or drives an effect."

// OperatorsPlan is the hand cues of a plan: what each numbered key stands for,
// and what must be so before it is called. It has no times: no hand cue has one.
type OperatorsPlan struct {
	Head
	Paper string        `json:"paper_only"`
	Keys  []OperatorKey `json:"keys"`
	Off   []OperatorOff `json:"not_tonight"`
	Used  Totals        `json:"totals"` // of the whole plan; presses are those of keys
}

// OperatorKey is one key.
type OperatorKey struct {
	Key        int           `json:"key"` // 0 = none yet
	ID         string        `json:"id"`
	Name       string        `json:"name"`
	SongNumber int           `json:"song_number"` // 0 = any time of the show
	SongTitle  string        `json:"song_title"`
	Section    string        `json:"section"`
	When       string        `json:"when"` // standby, in words
	Caller     string        `json:"caller"`
	ArmBy      string        `json:"arm_by"`
	Presses    int           `json:"presses"` // at most
	Does       []OperatorUse `json:"does"`
	Before     []string      `json:"before"` // what must be so before it is called
	Missing    []string      `json:"missing"`
	Note       string        `json:"note"`
}

// OperatorUse is what a key means for the units of one article.
type OperatorUse struct {
	Effects   []string        `json:"effects"` // placed effects
	Outputs   []string        `json:"outputs"`
	Positions []string        `json:"positions"`
	Article   string          `json:"article"`
	Open      wording.Seconds `json:"open"`
	Swapped   bool            `json:"swapped"`
	Pieces    int             `json:"pieces"` // used up by the first press
	NEC       float64         `json:"nec_grams"`
	Uses      float64         `json:"uses_kg"` // by one press
	Medium    string          `json:"medium"`
}

// OperatorOff is a hand cue that is not meant tonight.
type OperatorOff struct {
	Key  int    `json:"key"`
	Name string `json:"name"`
	Why  string `json:"why"`
}

// NewOperatorsPlan gives the operator's plan of a plan.
func NewOperatorsPlan(p *timeline.Plan) *OperatorsPlan {
	o := &OperatorsPlan{Head: HeadOf(p), Paper: PaperOnly, Keys: []OperatorKey{}, Off: []OperatorOff{}, Used: totalsOf(p, Filter{})}
	for i := range p.Keys {
		o.Keys = append(o.Keys, operatorKey(p, &p.Keys[i]))
	}
	for _, x := range p.KeysOff {
		o.Off = append(o.Off, OperatorOff{x.Cue.Key, x.Cue.Name, x.Why})
	}
	return o
}

func operatorKey(p *timeline.Plan, k *timeline.HandKey) OperatorKey {
	h := k.Cue
	o := OperatorKey{Key: h.Key, ID: string(h.ID), Name: h.Name, When: h.When, Caller: h.Caller, ArmBy: h.ArmBy, Presses: h.Presses, Note: h.Note, Does: []OperatorUse{}, Before: []string{}, Missing: []string{}}
	if k.Song >= 0 {
		o.SongNumber, o.SongTitle = p.Songs[k.Song].Number, p.Songs[k.Song].Song.FullTitle()
		o.Section = sectionName(p.Songs[k.Song].Song, h.Section)
	}
	for i := range k.Uses {
		o.does(p, &k.Uses[i])
	}
	for _, l := range k.Lost {
		o.Missing = append(o.Missing, strings.TrimSuffix(string(l.Reason)+" ("+l.Name+")", " ()"))
	}
	if k.Cut > 0 {
		o.Missing = append(o.Missing, timeline.Counted(k.Cut, "unit")+" cut for tonight")
	}
	o.before(p, k)
	return o
}

// does joins the units of one article that do the same.
func (o *OperatorKey) does(p *timeline.Plan, u *timeline.HandUse) {
	name := p.Called(u.Article)
	i := slices.IndexFunc(o.Does, func(d OperatorUse) bool {
		return d.Article == name && d.Open == wording.Seconds(u.Open) && d.Swapped == u.Swapped
	})
	if i < 0 {
		i = len(o.Does)
		o.Does = append(o.Does, OperatorUse{Article: name, Open: wording.Seconds(u.Open), Swapped: u.Swapped, Medium: u.Article.Medium, Effects: []string{}, Outputs: []string{}, Positions: []string{}})
	}
	d := &o.Does[i]
	d.Effects = append(d.Effects, u.Unit.Name)
	d.Outputs = append(d.Outputs, u.Unit.OutputsText())
	if pos := u.Unit.Position; pos != nil {
		d.Positions = appendNew(d.Positions, p.Called(pos))
	}
	d.Uses = wording.RoundGrams(d.Uses + float64(u.Draw())/1e6)
	if u.Article.UsedUp() {
		d.Pieces++
		d.NEC = wording.RoundGrams(d.NEC + u.Article.NEC)
	}
}

// before lists what must be so before the key is called.
func (o *OperatorKey) before(p *timeline.Plan, k *timeline.HandKey) {
	add := func(text string) { o.Before = appendNew(o.Before, text) }
	for i := range k.Uses {
		u := &k.Uses[i]
		for _, d := range u.Unit.Drives {
			if d.DeviceType == nil || d.Dead {
				continue
			}
			for _, role := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
				if len(d.DeviceType.Find(role, d.Wire.Output)) > 0 {
					add(fmt.Sprintf("%s of %s on: by %s", role, p.Called(d.Device), wording.Given(k.Cue.ArmBy)))
				}
			}
		}
	}
	for i := range k.Uses {
		if a := k.Uses[i].Article; max(a.Clear, a.Fallout) > 0 {
			add(fmt.Sprintf("nobody within %s of %s (as the stock gives it)", wording.LengthOr(p.Show.Told(), max(a.Clear, a.Fallout)), p.Called(a)))
		}
	}
	for i := range k.Uses {
		if k.Uses[i].Article.SingleUse {
			add("once: it is used up by the first press")
		}
	}
	if k.Cue.Presses > 1 {
		add(fmt.Sprintf("at most %d times: levels and loads are counted for no more", k.Cue.Presses))
	}
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// wording.WriteJSON writes the operator's plan as one JSON object.
func (o *OperatorsPlan) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, o) }
