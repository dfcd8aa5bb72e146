package report

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Choice chooses commands by what they do and what they drive. A list that is
// empty chooses all.
type Choice struct {
	Families []timeline.Family
	Articles []timeline.ID // after swaps
	Placed   []timeline.ID
	Units    []timeline.ID // banks and devices
	Arm      Arm
}

// Arm says how an effect stands with its arm slot when it is commanded.
type Arm string

// How an effect stands with its arm slot. ArmAny chooses all of them.
const (
	ArmAny  Arm = ""
	ArmUp   Arm = "up"   // it has one, which is up
	ArmDown Arm = "down" // it has one, which is not up
	ArmNone Arm = "none" // it has none
)

// Arms lists the words for Arm.
func Arms() []Arm { return []Arm{ArmUp, ArmDown, ArmNone} }

// ChoiceWords are a Choice in a user's words.
type ChoiceWords struct {
	Families, Articles, Placed, Units []string
	Arm                               string
}

// NewChoice finds what words mean in a plan; nil where there are none. A word
// that means nothing is an error that says what would be right.
func NewChoice(p *timeline.Plan, w ChoiceWords) (*Choice, error) {
	c := &Choice{Arm: Arm(w.Arm)}
	if c.Arm != ArmAny && !slices.Contains(Arms(), c.Arm) {
		return nil, fmt.Errorf("%q says nothing of an arm; write %s", w.Arm, words(Arms()))
	}
	for _, text := range w.Families {
		f := timeline.Family(text)
		if !slices.Contains(timeline.Families(), f) {
			return nil, fmt.Errorf("%q is no family; there are %s", text, words(timeline.Families()))
		}
		c.Families = append(c.Families, f)
	}
	var err error
	if c.Articles, err = recordsNamed(p, w.Articles, "article"); err != nil {
		return nil, err
	}
	if c.Placed, err = recordsNamed(p, w.Placed, "placed"); err != nil {
		return nil, err
	}
	if c.Units, err = recordsNamed(p, w.Units, "bank", "device"); err != nil {
		return nil, err
	}
	if len(c.Families)+len(c.Articles)+len(c.Placed)+len(c.Units) == 0 && c.Arm == ArmAny {
		return nil, nil
	}
	return c, nil
}

// recordsNamed finds records by id or name, of the first kind that has one.
func recordsNamed(p *timeline.Plan, names []string, kinds ...string) ([]timeline.ID, error) {
	var ids []timeline.ID
	for _, name := range names {
		var failed []string
		found := false
		for _, kind := range kinds {
			ref, err := p.FindRecord(kind + ":" + name)
			if err == nil {
				ids, found = append(ids, ref.ID), true
				break
			}
			failed = append(failed, err.Error())
		}
		if !found {
			return nil, fmt.Errorf("%s", strings.Join(failed, "; "))
		}
	}
	return ids, nil
}

func words[S ~string](list []S) string {
	texts := make([]string, len(list))
	for i, s := range list {
		texts[i] = string(s)
	}
	return strings.Join(texts, ", ")
}

func (c *Choice) command(ps *timeline.PlanSong, k *timeline.Command) bool {
	return c.article(k.Article) && c.unit(k.Unit) && (c.Arm == ArmAny || c.Arm == armOf(ps, k))
}

func (c *Choice) article(a *timeline.Article) bool {
	return among(c.Families, a.Family) && among(c.Articles, a.ID)
}

func (c *Choice) unit(u *timeline.Unit) bool {
	return among(c.Placed, u.Placed.ID) && (len(c.Units) == 0 || slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool {
		return slices.Contains(c.Units, d.Wire.Driver)
	}))
}

func among[T comparable](list []T, x T) bool { return len(list) == 0 || slices.Contains(list, x) }

// window reports whether a window's device drives a chosen unit with a chosen
// article. How hits stand with their arms chooses no windows.
func (c *Choice) window(ps *timeline.PlanSong, w *timeline.Window) bool {
	if c.Arm != ArmAny {
		return false
	}
	return slices.ContainsFunc(ps.Units.All, func(u *timeline.Unit) bool {
		return u.Article != nil && c.article(u.Article) && c.unit(u) && slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return d.Device == w.Device })
	})
}

// armOf says how the unit of a command stands with its arm slots when it is
// commanded: up only if all of them are.
func armOf(ps *timeline.PlanSong, c *timeline.Command) Arm {
	arm := ArmNone
	for _, d := range c.Unit.Drives {
		if d.DeviceType == nil {
			continue
		}
		for _, s := range d.DeviceType.Find(timeline.ArmSlot, d.Wire.Output) {
			if !slotUp(ps, d.Device, s, c.At) {
				return ArmDown
			}
			arm = ArmUp
		}
	}
	return arm
}

// slotUp reports whether a window holds a slot of a device on at a time.
func slotUp(ps *timeline.PlanSong, v *timeline.Device, s timeline.Slot, at timeline.Time) bool {
	place := v.PlaceOf(s)
	for i := range ps.Windows {
		w := &ps.Windows[i]
		if w.Up <= at && (!w.Closes() || at < w.Down) && slices.ContainsFunc(w.Slots, func(o timeline.Slot) bool { return w.Device.PlaceOf(o) == place }) {
			return true
		}
	}
	return false
}

// said names what is chosen.
func (c *Choice) said(s *timeline.Show) []string {
	var parts []string
	if len(c.Families) > 0 {
		parts = append(parts, "family "+words(c.Families))
	}
	kind := func(kind string) func(timeline.ID) string { return func(timeline.ID) string { return kind } }
	parts = saidOf(parts, s, "article", c.Articles, kind("article"))
	parts = saidOf(parts, s, "effect", c.Placed, kind("placed"))
	parts = saidOf(parts, s, "on", c.Units, func(id timeline.ID) string {
		if s.Rig.Bank(id) != nil {
			return "bank"
		}
		return "device"
	})
	if c.Arm != ArmAny {
		parts = append(parts, "arm "+string(c.Arm))
	}
	return parts
}

// saidOf adds the names of records of a kind, if there are any.
func saidOf(parts []string, s *timeline.Show, what string, ids []timeline.ID, kind func(timeline.ID) string) []string {
	if len(ids) == 0 {
		return parts
	}
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = s.Named(kind(id), id)
	}
	return append(parts, what+" "+strings.Join(names, ", "))
}
