package operation

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// afterShowOperations enter what became of a night.
func afterShowOperations() []*Operation { return []*Operation{afterShow()} }

func afterShow() *Operation {
	type A = timeline.AfterShow
	const such = "bank A:7; bank A:8"
	became := func(state timeline.OutcomeState) func(*A) []timeline.OutputRef {
		return func(a *A) []timeline.OutputRef { return a.Outputs[state] }
	}
	become := func(state timeline.OutcomeState) func(*A, []timeline.OutputRef) {
		return func(a *A, list []timeline.OutputRef) {
			if a.Outputs == nil {
				a.Outputs = map[timeline.OutcomeState][]timeline.OutputRef{}
			}
			a.Outputs[state] = list
		}
	}
	entered := func(name, label, help string, state timeline.OutcomeState) Argument {
		return Argument{Field: outputs(name, help, became(state), become(state)), Label: label, Hint: such, read: readOutput}
	}
	return does(Operation{Verb: "aftershow", On: "night", Menu: "After the show…", Title: "After the show", Button: "Enter",
		Tip:  "enters what was fired, left and weighed after the show of the night in view",
		Help: "enters what became of a night's loads, and what was left in its cylinders",
		Args: []Argument{
			{Field: field.Flag("all-fired", "what timecode commanded, and nothing else is said of, was fired", func(a *A) *bool { return &a.AllFired }), Label: "All fired"},
			entered("fired", "Fired", "this output was fired; may be given again", timeline.Fired),
			entered("unfired", "Not fired", "this output was not fired and stays loaded", timeline.Unfired),
			entered("misfired", "Misfired", "this output misfired", timeline.Misfired),
			entered("taken-out", "Taken out", "this output was not fired, and its load is back in stock", timeline.TakenOut),
			{Field: outputs("cleared", "the misfire at this output has been cleared; needs {by}", func(a *A) []timeline.OutputRef { return a.Cleared },
				func(a *A, list []timeline.OutputRef) { a.Cleared = list }), Label: "Cleared", Hint: such, read: readOutput},
			{Field: field.List("weight", "supply=kg: what was left in a supply", func(a *A) *[]timeline.Fill { return &a.Weights }, writeWeight, parseWeight), Label: "Weighed, kg", Hint: "CO2 left=12.4", read: readWeight},
			{Field: field.Text("by", "who cleared the misfires", func(a *A) *string { return &a.By }), Label: "Cleared by", Hint: "who cleared the misfires"},
			{Field: field.Text("note", "how they were cleared", func(a *A) *string { return &a.Note }), Label: "Note", Hint: "how they were cleared"},
			{Field: field.Flag("forget", "take away first all that was entered for the night", func(a *A) *bool { return &a.Forget }), Label: "Forget"},
		}},
		func(at At, a *A) (timeline.Edit, error) { return at.AfterShow(*a) },
		func(*timeline.Show, *A) string { return "after show" })
}

// outputs are outputs of banks and devices, held as id:number.
func outputs[A any](name, help string, get func(*A) []timeline.OutputRef, set func(*A, []timeline.OutputRef)) field.Field {
	return field.Of(name, help, field.ListType,
		func(a *A) field.Value {
			var items []string
			for _, o := range get(a) {
				items = append(items, o.String())
			}
			return field.Value{Items: items}
		},
		func(a *A, v field.Value) error {
			var list []timeline.OutputRef
			for _, item := range v.Items {
				unit, number, _ := strings.Cut(item, ":")
				n, err := strconv.Atoi(number)
				if err != nil || n < 1 {
					return fmt.Errorf("%q is no output; write bank:output, such as bank-a:7", item)
				}
				list = append(list, timeline.OutputRef{Driver: timeline.ID(unit), Output: n})
			}
			set(a, list)
			return nil
		})
}

// readOutput finds the output of a bank or device that is named.
func readOutput(p *timeline.Plan, text string) (field.Value, error) {
	at, err := p.FindOutput(text)
	return field.Value{Text: at.String()}, err
}

func writeWeight(f timeline.Fill) string { return string(f.Supply) + "=" + field.FormatNumber(f.Kg) }

// parseWeight reads supply=kg, with the id of a supply.
func parseWeight(text string) (timeline.Fill, error) {
	i := strings.LastIndexByte(text, '=')
	if i < 0 {
		return timeline.Fill{}, fmt.Errorf("%q must be written supply=kg", text)
	}
	kg, err := units.Metres.Read("kg", text[i+1:])
	if err != nil || !(kg >= 0 && kg < 1e6) {
		return timeline.Fill{}, fmt.Errorf("%q is no mass; write kg, 0 or more", text[i+1:])
	}
	return timeline.Fill{Supply: timeline.ID(text[:i]), Kg: kg + 0}, nil // + 0 turns -0 into 0
}

// readWeight reads supply=kg, with the id or name of a supply.
func readWeight(p *timeline.Plan, text string) (field.Value, error) {
	f, err := parseWeight(text)
	if err != nil {
		return field.Value{}, &timeline.ValueError{Field: "weight", Want: err.Error()}
	}
	ref, err := p.FindOneOf(string(f.Supply), "supply")
	f.Supply = ref.ID
	return field.Value{Text: writeWeight(f)}, err
}
