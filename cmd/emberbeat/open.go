package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"

	"emberbeat/shows"
)

// windowProgram is the program with the window. It is one of its own because a
// program with a window cannot even start where there is no screen.
const windowProgram = "emberbeat-desk"

func openCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "open SHOW",
		Short: "open a show in the window",
		Long: `Open a show in the window, which is a program of its own, emberbeat-desk: it is
looked for beside this one, then in the PATH. Without a screen, use the other
verbs: they do everything the window does to a show. SHOW@1 opens the newest
older save (emberbeat saves), to be looked at.`,
		Example: "  emberbeat open tour",
		Args:    takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			dir, _, err := shows.Named(args[0])
			if err != nil {
				return usage(err)
			}
			if _, err := os.Stat(dir); err != nil {
				return fileFailure(fmt.Errorf("%s: there is no such show", args[0]))
			}
			return t.openWindow(c, args...)
		},
	}
}

// startOrHelp is emberbeat without a verb: the window where there is one and a
// screen to show it on, else the help.
func (t *talk) startOrHelp(c *cobra.Command) error {
	if _, err := findWindow(); err == nil && hasScreen() {
		return t.openWindow(c)
	}
	return c.Help()
}

func (t *talk) openWindow(c *cobra.Command, args ...string) error {
	path, err := findWindow()
	if err != nil {
		return hint(fileFailure(fmt.Errorf("the window is not here: %s stands neither beside this program nor in the PATH", windowProgram)),
			"build it into the same folder, or go on with the other verbs")
	}
	if !hasScreen() {
		return hint(usage(errors.New("there is no screen to open a window on")), "set DISPLAY or WAYLAND_DISPLAY, or go on with the other verbs")
	}
	w := exec.CommandContext(c.Context(), path, args...)
	w.Stdin, w.Stdout, w.Stderr = os.Stdin, t.out, t.err
	var ended *exec.ExitError
	switch err := w.Run(); {
	case errors.As(err, &ended):
		return &failure{code: max(ended.ExitCode(), exitFindings), err: fmt.Errorf("the window ended with: %w", err)}
	case err != nil:
		return fileFailure(err)
	}
	return nil
}

func findWindow() (string, error) {
	name := windowProgram
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	if self, err := os.Executable(); err == nil {
		beside := filepath.Join(filepath.Dir(self), name)
		if info, err := os.Stat(beside); err == nil && info.Mode().IsRegular() {
			return beside, nil
		}
	}
	return exec.LookPath(name)
}

// hasScreen reports whether a window could open: always on Windows and macOS,
// elsewhere where a display is named.
func hasScreen() bool {
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin" || os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}
