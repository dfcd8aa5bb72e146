package operation

import (
	"fmt"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// refillOperations plan what supplies get during a show.
func refillOperations() []*Operation { return []*Operation{refill()} }

func refill() *Operation {
	type A = timeline.Refill
	return does(Operation{Verb: "refill", Menu: "Plan refill…", Title: "Refill in a gap", Button: "Plan", Plays: true,
		Tip:  "plans a refill or a change of cylinders in the gap after a song: in the set on tour, or for the night in view",
		Help: "plans a refill, or a change of cylinders, in the gap after a song",
		Args: []Argument{
			{Field: id("supply", "what is refilled", func(f *A) *timeline.ID { return &f.Supply }, "supply"), Word: "SUPPLY", Optional: true, Label: "Supply", Need: "no supply is chosen", read: readOneOf("supply")},
			{Field: id("after", "the song after which it starts: title, folder, id or number", func(f *A) *timeline.ID { return &f.After }, "song"), Label: "After", Need: "no song is chosen"},
			{Field: mass("kg", "what the supply holds afterwards (default: all its units full)", func(f *A) *float64 { return &f.Kg }), Label: "Then holds"},
			{Field: minutes("minutes", "how long it takes", func(f *A) *float64 { return &f.Minutes }), Label: "Minutes", Hint: "how long it takes"},
			{Field: field.Text("by", "who does it", func(f *A) *string { return &f.By }), Label: "By", Hint: "who does it"},
			{Field: field.Flag("leave-out", "leave the set's refill there out for the night", func(f *A) *bool { return &f.Out }), Label: "Leave out"},
		}},
		func(at At, f *A) (timeline.Edit, error) {
			if f.Out && at.Night == nil {
				return nil, fmt.Errorf("{leave-out} is for one night; on tour, take the refill out of the set's refills with edit")
			}
			return at.PlanRefill(*f), nil
		},
		func(s *timeline.Show, f *A) string {
			what := "refill"
			if f.Out {
				what = "leave out the refill of"
			}
			return fmt.Sprintf("%s %s after %s", what, s.Named("supply", f.Supply), s.Named("song", f.After))
		})
}

// readOneOf reads a name of a record of some kinds, with its kind before it or
// without; the argument holds the id alone.
func readOneOf(kinds ...string) func(*timeline.Plan, string) (field.Value, error) {
	return func(p *timeline.Plan, text string) (field.Value, error) {
		ref, err := p.FindOneOf(text, kinds...)
		return field.Value{Text: string(ref.ID)}, err
	}
}

// mass is a number of kg; 0 is not given.
func mass[A any](name, help string, at func(*A) *float64) field.Field {
	return in("kg", number(name, help, at, parseMass))
}

// parseMass reads a number of kg.
func parseMass(text string) (float64, error) {
	kg, err := units.Metres.Read("kg", text)
	if err != nil || !(kg >= 0 && kg < 1e6) {
		return 0, fmt.Errorf("%s is no mass; write kg, 0 or more", text)
	}
	return kg + 0, nil // + 0 turns -0 into 0
}

// minutes is a time that somebody needs; 0 is not given.
func minutes[A any](name, help string, at func(*A) *float64) field.Field {
	return number(name, help, at, func(text string) (float64, error) {
		m, err := strconv.ParseFloat(text, 64)
		if err != nil || !(m >= 0 && m <= 1440) {
			return 0, fmt.Errorf("%s is not from 0 to 1440", text)
		}
		return m + 0, nil // likewise
	})
}

// number is a number whose bounds have words of their own.
func number[A any](name, help string, at func(*A) *float64, parse func(string) (float64, error)) field.Field {
	f := field.Parsed(name, help, at, field.FormatNumber, parse)
	f.Type = field.NumberType
	return f
}
