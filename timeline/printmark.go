package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// PrintMark says that a sheet was printed: an item of a night, or of the show
// for its tour. Its digest tells whether the sheet would look the same today; it
// holds no clock and no name.
type PrintMark struct {
	Sheet    string // its word, such as cue-list
	Revision string // that was printed on it; "" = none was given
	Digest   string
	Hours    Hours // of timecode that the songs on it run in; none = not noted
}

const printMarkWords = "sheet digest= revision= hours="

// String writes the item form: `cue-list digest=0123456789abcdef revision=A`.
func (m PrintMark) String() string {
	var w itemWriter
	w.head(m.Sheet)
	w.pair("digest", m.Digest)
	w.pair("revision", m.Revision)
	w.pair("hours", m.Hours.String())
	return w.String()
}

// ParsePrintMark reads the item form of a print mark.
func ParsePrintMark(s string) (PrintMark, error) {
	r := readItem(s)
	m := PrintMark{Sheet: r.head("a sheet"), Digest: take(r, "digest", parseDigest), Revision: r.value("revision"), Hours: take(r, "hours", parseHours)}
	if m.Digest == "" && r.err == nil {
		r.err = fmt.Errorf("holds no digest; write digest=")
	}
	return m, r.done(printMarkWords)
}

func parseDigest(s string) (string, error) {
	if len(s) > 64 || strings.Trim(s, "0123456789abcdef") != "" {
		return "", fmt.Errorf("must be hexadecimal digits")
	}
	return s, nil
}

// MarkPrinted gives the edit that notes sheets as printed for a night, or for
// the tour where night is "". A sheet that was printed before has its mark
// replaced.
func MarkPrinted(night ID, marks []PrintMark) Edit {
	if night == "" {
		return func(d *Draft) error {
			h := *d.show.Head
			h.Printed = withMarks(h.Printed, marks)
			return d.putRead(&h)
		}
	}
	return EditNight(night, func(_ *Show, n *Night) error {
		n.Printed = withMarks(n.Printed, marks)
		return nil
	})
}

func withMarks(old, marks []PrintMark) []PrintMark {
	list := slices.Clone(old)
	for _, m := range marks {
		list = replace(list, m, func(x PrintMark) bool { return x.Sheet == m.Sheet })
	}
	slices.SortStableFunc(list, func(a, b PrintMark) int { return cmp.Compare(a.Sheet, b.Sheet) })
	return list
}

// Printed gives the marks that belong to a plan: its night's, or the show's.
func (p *Plan) Printed() []PrintMark {
	if p.Night != nil {
		return p.Night.Printed
	}
	return p.Show.Head.Printed
}

// Revision gives the revision that a plan's sheets carry; "" = none is given.
func (p *Plan) Revision() string {
	if p.Night != nil {
		return p.Night.Revision
	}
	return ""
}

// NextRevision names the revision after another: A, B … Z, AA after letters,
// the next number where it ends in one, and A after none.
func NextRevision(r string) string {
	stem := strings.TrimRight(r, "0123456789")
	if n, err := strconv.Atoi(r[len(stem):]); err == nil && n < 1e9 {
		return stem + strconv.Itoa(n+1)
	}
	letters := []byte(r)
	for i := len(letters) - 1; i >= 0; i-- {
		switch c := letters[i]; {
		case c == 'Z' || c == 'z':
			letters[i] -= 25
		case c >= 'A' && c < 'Z' || c >= 'a' && c < 'z':
			letters[i]++
			return string(letters)
		default:
			return r + "2"
		}
	}
	if r == "" {
		return "A"
	}
	return string(letters[:1]) + string(letters)
}
