package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"emberbeat/shows/report"
)

func manCommand(t *talk) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:     "man",
		Short:   "write the manual page",
		Long:    "Write the manual page in the man format; read it with: emberbeat man | man -l -",
		Example: "  emberbeat man\n  emberbeat man --out emberbeat.1",
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if t.json {
				return usage(errNoJSON)
			}
			return t.writeOut(out, func(w io.Writer) error {
				_, err := io.WriteString(w, manPage(c.Root()))
				return err
			})
		},
	}
	outFlag(c, &out)
	return c
}

// manPage writes all verbs on one page, from the same texts as --help, in the
// macros of man(7).
func manPage(root *cobra.Command) string {
	var b strings.Builder
	b.WriteString(".TH EMBERBEAT 1\n.SH NAME\nemberbeat \\- " + roff(root.Short) + "\n")
	b.WriteString(".SH SYNOPSIS\n.B emberbeat\nVERB [ARGUMENTS] [FLAGS]\n.SH DESCRIPTION\n" + preformatted(root.Long) + ".PP\n" + roff(report.CautionLine) + "\n")
	b.WriteString(".SH FLAGS OF EVERY VERB\n")
	root.PersistentFlags().VisitAll(func(f *pflag.Flag) { manFlag(&b, f) })
	b.WriteString(".SH VERBS\n")
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			manVerb(&b, c)
		}
	}
	return b.String()
}

func manVerb(b *strings.Builder, c *cobra.Command) {
	long := c.Long
	if long == "" {
		long = c.Short
	}
	fmt.Fprintf(b, ".SS %s\n%s", roff(programName+" "+c.Use), preformatted(long))
	c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { manFlag(b, f) })
	if c.Example != "" {
		b.WriteString(".PP\nExamples:\n" + preformatted(c.Example))
	}
}

func manFlag(b *strings.Builder, f *pflag.Flag) {
	name, help := pflag.UnquoteUsage(f)
	if name != "" {
		name = " " + name
	}
	fmt.Fprintf(b, ".TP\n.B \\-\\-%s%s\n%s\n", roff(f.Name), roff(name), roff(help))
}

// preformatted keeps the lines of a text as they are.
func preformatted(s string) string { return ".nf\n" + roff(strings.TrimRight(s, "\n")) + "\n.fi\n" }

// roff escapes what has a meaning at man(7): backslashes, hyphens that must
// stay minus signs, and a dot or apostrophe at the start of a line.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
