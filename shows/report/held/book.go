package held

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// book finds addresses of the rig by what people call them.
type book struct {
	show   *timeline.Show
	banks  map[string][]*timeline.Bank // by lower-case name, id, number, and space with number
	spaces []string                    // of the devices' universes, each once
	used   map[report.Address]bool     // by the plan
	labels map[report.Address]string   // as sheets write them
}

func newBook(s *timeline.Show, lines []report.Line) *book {
	b := &book{show: s, banks: map[string][]*timeline.Bank{}, used: map[report.Address]bool{}, labels: map[report.Address]string{}}
	for _, k := range s.Rig.Banks {
		names := []string{strings.ToLower(s.Called(k)), string(k.ID)}
		if k.Address > 0 {
			names = append(names, strconv.Itoa(k.Address), strings.ToLower(k.Space+" "+strconv.Itoa(k.Address)))
		}
		slices.Sort(names)
		for _, n := range slices.Compact(names) {
			b.banks[n] = append(b.banks[n], k)
		}
	}
	for _, v := range s.Rig.Devices {
		if !slices.Contains(b.spaces, v.Space) {
			b.spaces = append(b.spaces, v.Space)
		}
	}
	for i := range lines {
		for _, o := range lines[i].Outputs {
			if b.used[o.At] = true; b.labels[o.At] == "" {
				b.labels[o.At] = o.Label
			}
		}
	}
	return b
}

// label writes an address as sheets do.
func (b *book) label(a report.Address) string {
	if l := b.labels[a]; l != "" {
		return l
	}
	if a.Output == 0 {
		return "DMX " + a.Slot.String()
	}
	for _, k := range b.show.Rig.Banks {
		if report.BankAddress(k, a.Output) == a {
			return fmt.Sprintf("%s output %d", b.show.Called(k), a.Output)
		}
	}
	return fmt.Sprintf("bank %d output %d", a.Number, a.Output)
}

// short writes a label as a user may write it after --means.
func short(label string) string { return strings.Replace(label, " output ", ":", 1) }

var (
	slotForm   = regexp.MustCompile(`(?i)^(?:dmx )?([0-9]{1,5})\.([0-9]{1,3})(?:\+[0-9]{1,3})?(?: of (.+))?$`)
	outputForm = regexp.MustCompile(`(?i)^(.+?)(?: output | ?[:/] ?)0*([0-9]{1,5})$`)
)

// Why an address is not known.
var errNoAddress = errors.New("names no address: write a bank and its output such as IGN 1:7, or universe.slot such as 1.45")

// find gives the address that a text names.
func (b *book) find(text string) (report.Address, error) {
	text = strings.TrimSuffix(strings.Join(strings.Fields(text), " "), " (dead)")
	if m := slotForm.FindStringSubmatch(text); m != nil {
		return b.slot(text, m)
	}
	m := outputForm.FindStringSubmatch(text)
	if m == nil {
		return report.Address{}, errNoAddress
	}
	n, err := strconv.Atoi(m[2])
	if err != nil || n < 1 {
		return report.Address{}, fmt.Errorf("outputs of a bank are counted from 1")
	}
	banks := b.banks[strings.ToLower(m[1])]
	var found []report.Address
	for _, k := range banks {
		if a := report.BankAddress(k, n); !slices.Contains(found, a) {
			found = append(found, a)
		}
	}
	switch len(found) {
	case 0:
		return report.Address{}, fmt.Errorf("no bank is called %q", m[1])
	case 1:
	default:
		return report.Address{}, fmt.Errorf("%q could be %s", m[1], b.namesOf(banks))
	}
	if t := b.show.Stock.BankType(banks[0].Type); t != nil && n > t.Outputs {
		return report.Address{}, fmt.Errorf("%s has %s, and none %d", b.show.Called(banks[0]), timeline.Counted(t.Outputs, "output"), n)
	}
	return found[0], nil
}

func (b *book) namesOf(banks []*timeline.Bank) string {
	var names []string
	for _, k := range banks {
		names = append(names, b.show.Called(k))
	}
	return strings.Join(names, " or ")
}

// slot finds a slot of a universe. Where the rig has several networks, it must be
// named unless the plan has such a slot in one of them alone.
func (b *book) slot(text string, m []string) (report.Address, error) {
	p, err := timeline.ParsePatch(m[1] + "." + m[2])
	if err != nil {
		return report.Address{}, err
	}
	if len(b.spaces) == 0 {
		return report.Address{}, fmt.Errorf("is written as a slot of a universe, and the rig has no device; a bank's output is written as 1:7: --means \"{b}.{n}={b}:{n}\" says so for all")
	}
	var in []string
	for _, s := range b.spaces {
		switch at := (report.Address{Space: s, Slot: p}); {
		case m[3] != "" && !strings.EqualFold(s, m[3]):
		case m[3] == "" && len(b.spaces) > 1 && !b.used[at]:
		default:
			in = append(in, s)
		}
	}
	if len(in) != 1 {
		return report.Address{}, fmt.Errorf("there are several networks, or none of the name: write %s of one of %q", strings.TrimSuffix(text, " of "+m[3]), b.spaces)
	}
	return report.Address{Space: in[0], Slot: p}, nil
}
