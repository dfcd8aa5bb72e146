package page

import (
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// Assign gives a field of records a text, or adds it to a list or takes it out, as one step; an empty text takes back an amount for which a zero stands
// for nothing. Where stock changes on which anything rests, it says first what that comes to. It gives false where it is refused, and has said why.
func Assign(h Host, f *timeline.Field, refs []timeline.Ref, op timeline.AssignOp, text string) bool {
	edits := make([]timeline.Edit, 0, len(refs))
	for _, r := range refs {
		edits = append(edits, h.Plan().Assign(r, timeline.Assignment{Field: f.Name, Op: op, Text: orDefault(f, op, fromTyped(h, f, r, text))}))
	}
	kind := timeline.KindOf(refs[0].Kind)
	label := "change " + strings.ReplaceAll(f.Name, "_", " ")
	if len(refs) > 1 {
		label += " of " + CountedKind(len(refs), kind)
	}
	if kind.Part == timeline.StockPart {
		return h.DoAsked(label, nil, edits...)
	}
	return h.Do(label, edits...)
}

// CheckAssign says what would be valid where that would be refused: it is tried on the show and nothing is made of it.
func CheckAssign(h Host, f *timeline.Field, on timeline.Ref, op timeline.AssignOp, text string) error {
	_, err := h.Show().Edit(h.Plan().Assign(on, timeline.Assignment{Field: f.Name, Op: op, Text: orDefault(f, op, fromTyped(h, f, on, text))}))
	return err
}

// orDefault gives the text of an amount; an empty one stands for nothing where a zero does.
func orDefault(f *timeline.Field, op timeline.AssignOp, text string) string {
	if _, nothing := f.Zero(f.Default); nothing && op == timeline.AssignSet && strings.TrimSpace(text) == "" {
		return f.Default.Text
	}
	return text
}

// Typed gives the text of a value to be typed over: seconds without the zeros at their end, nothing for a zero that stands for nothing,
// measures in the units of the reader.
func Typed(told units.System, f *timeline.Field, v timeline.Value) string {
	if _, nothing := f.Zero(v); nothing {
		return ""
	}
	if f.Unit == "s" {
		if text := Short(v.Text); text != "" {
			return text
		}
		return "0"
	}
	if text, ok := shownNumber(told, f, v); ok {
		return text
	}
	return v.Text
}
