package main

import "emberbeat/shows/report"

// usageTemplate is the part of --help below the text: verbs in the order of
// the work, examples, flags.
var usageTemplate = `Usage:
  {{if .HasAvailableSubCommands}}emberbeat VERB [arguments] [flags]{{else}}emberbeat {{.Use}}{{end}}
{{- if .HasExample}}

Examples:
{{.Example}}{{end}}
{{- if .HasAvailableSubCommands}}

Verbs:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}
{{- if .HasAvailableLocalFlags}}

Flags:
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasAvailableInheritedFlags}}

Flags of every verb:
{{.InheritedFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasAvailableSubCommands}}

emberbeat VERB --help says more about a verb and shows examples.{{end}}

` + report.CautionLine + "\n"
