package row

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/figure"
)

// most is how many effects a row can have; a judgement.
const most = 200

// Row is a row of effects of one article as a line says it. What a line leaves out
// is said for all of them, or works out.
type Row struct {
	Count   int     // 0 = as many as there are positions On
	Name    string  // of the effects; each gets it with a number
	Place   string  // of the positions; each gets it with a number; "" = the name
	On      string  // names of positions that are there, with a * at the end for all that begin so; "" = new ones
	Apart   float64 // m between two; 0 = not given
	From    *figure.Vec
	To      *figure.Vec
	Middle  *figure.Vec
	Article string // by name or id
	Pan     float64
	Tilt    float64
	Fan     float64 // degrees of pan from the first to the last, about Pan
	Group   string  // "" = that of all rows
}

// keys are what a line can say by name, in the order in which it is written.
var keys = []string{"on", "apart", "from", "to", "middle", "article", "pan", "tilt", "fan", "group"}

// Keys lists the words that a line, or the head of a table, can have: the first
// three of a line need no word.
func Keys() []string { return append([]string{"count", "name", "place"}, keys...) }

// Parse reads a line: `12 jets, lip, 1.5 m apart, from=-8,0, article="Cold jet"`.
// What stands first is how many of what, a word alone is what the positions are
// called, and the rest is key=value in any order. Between them stand a comma and a
// space.
func Parse(line string) (Row, error) {
	var r Row
	if !utf8.ValidString(line) {
		return r, errors.New("the row is not UTF-8")
	}
	for i, part := range split(line) {
		if err := r.part(part, i == 0); err != nil {
			return Row{}, err
		}
	}
	return r, r.check()
}

// split parts a line at commas that have a space, or nothing, behind them and stand
// in no quotes.
func split(line string) []string {
	var parts []string
	start, quoted := 0, false
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] == '\\' && quoted:
			i++
		case line[i] == '"':
			quoted = !quoted
		case line[i] == ',' && !quoted && (i+1 == len(line) || line[i+1] == ' '):
			parts, start = append(parts, strings.TrimSpace(line[start:i])), i+1
		}
	}
	return append(parts, strings.TrimSpace(line[start:]))
}

func (r *Row) part(text string, first bool) error {
	if apart, ok := strings.CutSuffix(text, "apart"); ok && !strings.Contains(text, "=") {
		return r.Set("apart", strings.TrimSpace(apart))
	}
	key, value, named := strings.Cut(text, "=")
	switch {
	case named && !strings.Contains(key, `"`):
		return r.Set(strings.TrimSpace(key), strings.TrimSpace(value))
	case first:
		number, name, _ := strings.Cut(text, " ")
		if _, err := strconv.Atoi(number); err != nil {
			return r.Set("name", text)
		}
		if err := r.Set("count", number); err != nil {
			return err
		}
		return r.Set("name", strings.TrimSpace(name))
	case text == "":
		return nil
	case r.Place == "":
		return r.Set("place", text)
	}
	return fmt.Errorf("%q is not understood; write key=value, with keys %s", text, strings.Join(keys, ", "))
}

// Set says one thing of a row by its word; "" says nothing.
func (r *Row) Set(key, text string) error {
	if strings.HasPrefix(text, `"`) {
		if plain, n, err := field.ScanQuoted(text, 0); err == nil && n == len(text) {
			text = plain
		}
	}
	if text = timeline.CleanText(text); text == "" {
		return nil
	}
	var err error
	number := func(to *float64, least, high float64) {
		x, bad := strconv.ParseFloat(strings.TrimRight(strings.Replace(text, ",", ".", 1), "m° "), 64)
		if bad != nil || !(x >= least && x <= high) {
			err = fmt.Errorf("%s %q must be a number from %g to %g", key, text, least, high)
			return
		}
		*to = x + 0
	}
	point := func(to **figure.Vec) {
		v, bad := parsePoint(text)
		if bad != nil {
			err = fmt.Errorf("%s %q must be x,y or x,y,z in metres", key, text)
			return
		}
		*to = &v
	}
	switch key {
	case "count":
		if r.Count, err = strconv.Atoi(text); err != nil || r.Count < 1 || r.Count > most {
			return fmt.Errorf("%q must be how many, from 1 to %d", text, most)
		}
	case "name":
		r.Name = text
	case "place":
		r.Place = text
	case "on":
		r.On = text
	case "article":
		r.Article = text
	case "group":
		r.Group = text
	case "apart":
		number(&r.Apart, 0.001, 1000)
	case "pan":
		number(&r.Pan, -180, 180)
	case "tilt":
		number(&r.Tilt, -180, 180)
	case "fan":
		number(&r.Fan, -360, 360)
	case "from":
		point(&r.From)
	case "to":
		point(&r.To)
	case "middle":
		point(&r.Middle)
	default:
		return fmt.Errorf("%q is nothing that a row says; it says %s", key, strings.Join(Keys(), ", "))
	}
	return err
}

// parsePoint reads x,y or x,y,z.
func parsePoint(text string) (figure.Vec, error) {
	parts := strings.Split(text, ",")
	if len(parts) != 2 && len(parts) != 3 {
		return figure.Vec{}, errors.New("is no point")
	}
	var v [3]float64
	for i, p := range parts {
		x, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !(math.Abs(x) <= 1000) {
			return figure.Vec{}, errors.New("is no point")
		}
		v[i] = x + 0
	}
	return figure.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}

// check says what of a row contradicts itself.
func (r *Row) check() error {
	points := 0
	for _, p := range []*figure.Vec{r.From, r.To, r.Middle} {
		if p != nil {
			points++
		}
	}
	switch {
	case r.Name == "":
		return errors.New("the row says no name; begin it with how many of what, such as 12 jets")
	case r.On != "" && (r.Apart != 0 || points > 0 || r.Place != ""):
		return errors.New("a row on positions that are there has their places; leave out place, apart, from, to and middle")
	case r.On == "" && r.Count == 0:
		return fmt.Errorf("the row says not how many; begin it with a number from 1 to %d", most)
	case r.To != nil && r.From == nil:
		return errors.New("the row says to and not from")
	case r.Middle != nil && points > 1:
		return errors.New("the row says its middle and an end; write one of them")
	case r.To != nil && r.Apart != 0:
		return errors.New("the row says from, to and apart; leave out one of them")
	case r.On == "" && r.Count > 1 && r.To == nil && r.Apart == 0:
		return errors.New("the row says not how far apart its effects stand; write 1.5 m apart, or from= and to=")
	case math.Abs(r.Pan)+math.Abs(r.Fan)/2 > 180:
		return errors.New("the ends of the fan point farther than 180° to a side")
	}
	return nil
}

// String writes the row as Parse reads it.
func (r Row) String() string {
	var parts []string
	say := func(key, text string) {
		if text != "" {
			parts = append(parts, key+`="`+strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text)+`"`)
		}
	}
	number := func(key string, x float64) {
		if x != 0 {
			parts = append(parts, key+"="+field.FormatNumber(x))
		}
	}
	point := func(key string, v *figure.Vec) {
		if v != nil {
			parts = append(parts, fmt.Sprintf("%s=%s,%s,%s", key, field.FormatNumber(v.X), field.FormatNumber(v.Y), field.FormatNumber(v.Z)))
		}
	}
	if r.Count > 0 {
		parts = append(parts, "count="+strconv.Itoa(r.Count))
	}
	say("name", r.Name)
	say("place", r.Place)
	say("on", r.On)
	number("apart", r.Apart)
	point("from", r.From)
	point("to", r.To)
	point("middle", r.Middle)
	say("article", r.Article)
	number("pan", r.Pan)
	number("tilt", r.Tilt)
	number("fan", r.Fan)
	say("group", r.Group)
	return strings.Join(parts, ", ")
}

// places gives where the effects of a row of new positions stand, the first from
// the audience's left unless From and To say otherwise.
func (r *Row) places() []figure.Vec {
	n := r.Count
	step := figure.Vec{X: r.Apart}
	var first figure.Vec
	switch {
	case r.To != nil && n > 1:
		f := 1 / float64(n-1)
		step = figure.Vec{X: (r.To.X - r.From.X) * f, Y: (r.To.Y - r.From.Y) * f, Z: (r.To.Z - r.From.Z) * f}
		first = *r.From
	case r.From != nil:
		first = *r.From
	default:
		if r.Middle != nil {
			first = *r.Middle
		}
		first.X -= r.Apart * float64(n-1) / 2
	}
	list := make([]figure.Vec, n)
	mm := func(x float64) float64 { return math.Round(x*1000)/1000 + 0 }
	for i := range list {
		v := first.Along(step, float64(i))
		list[i] = figure.Vec{X: mm(v.X), Y: mm(v.Y), Z: mm(v.Z)}
	}
	return list
}

// pan gives the pan of the i-th of n effects: the fan opens evenly about Pan.
func (r *Row) pan(i, n int) float64 {
	if n < 2 {
		return r.Pan
	}
	return math.Round((r.Pan+r.Fan*(float64(i)/float64(n-1)-0.5))*100)/100 + 0
}

// single is a name as one of several has it: without the s of the plural.
func single(name string, n int) string {
	if one, ok := strings.CutSuffix(name, "s"); ok && n > 1 && len(one) > 1 && !strings.HasSuffix(one, "s") {
		return one
	}
	return name
}
