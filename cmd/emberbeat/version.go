package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/wording"
)

// version is set by the Makefile: -ldflags "-X main.version=…".
var version = ""

// build is what the version verb tells.
type build struct {
	Version string `json:"version"`
	Commit  string `json:"commit,omitempty"`
	Changed bool   `json:"changed"` // built from files that are in no commit
	Go      string `json:"go"`
	System  string `json:"system"`
}

func versionCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "say which emberbeat this is",
		Example: "  emberbeat version\n  emberbeat version --json",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return t.writeOut("", func(w io.Writer) error {
				b := thisBuild()
				if t.json {
					return wording.WriteJSON(w, b)
				}
				_, err := fmt.Fprintln(w, b)
				return err
			})
		},
	}
}

func thisBuild() build {
	b := build{Version: version, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	info, _ := debug.ReadBuildInfo()
	if info == nil {
		info = &debug.BuildInfo{}
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.Commit = s.Value
		case "vcs.modified":
			b.Changed = s.Value == "true"
		}
	}
	if b.Version == "" {
		b.Version = "development"
	}
	return b
}

func (b build) String() string {
	s := fmt.Sprintf("emberbeat %s", b.Version)
	if b.Commit != "" {
		s += " from commit " + b.Commit
		if b.Changed {
			s += " with changes"
		}
	}
	return s + ", " + b.Go + ", " + b.System
}
