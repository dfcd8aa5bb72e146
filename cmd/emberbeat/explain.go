package main

import (
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline/units"
)

func explainCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "explain [RULE]",
		Short: "say what a rule looks for, why, and with which numbers",
		Long: `Say what a rule looks for, why it matters, which numbers it compares with, how
well they are known, and how to change them in a show. Without a rule, list all.`,
		Example: "  emberbeat explain\n  emberbeat explain recovery",
		Args:    cobra.MaximumNArgs(1),

		ValidArgsFunction: words(ruleNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return t.explainAll()
			}
			return t.explainRule(args[0])
		},
	}
}

func (t *talk) explainAll() error {
	if t.json {
		return t.writeOut("", func(w io.Writer) error { return wording.WriteJSON(w, report.RuleLines()) })
	}
	return t.writeText(withCaution(report.RuleList()))
}

func (t *talk) explainRule(name string) error {
	if err := t.checkUnits(); err != nil {
		return err
	}
	told, _ := units.ParseSystem(t.chosenUnits()) // which was just looked at; of no show, so that metres are the usual
	text, err := report.Explain(told, name)
	if err != nil {
		return usage(err)
	}
	if !t.json {
		return t.writeText(withCaution(text))
	}
	for _, r := range report.RuleLines() {
		if r.Rule == name {
			return t.writeOut("", func(w io.Writer) error { return wording.WriteJSON(w, r) })
		}
	}
	return nil
}

// withCaution puts the caution below a text.
func withCaution(text string) string { return text + "\n" + report.CautionLine + "\n" }

// writeText writes a result that is text already to stdout.
func (t *talk) writeText(text string) error {
	return t.writeOut("", func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}
