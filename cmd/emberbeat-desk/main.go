// Command emberbeat-desk opens the window on a show, or on its start page.
//
//	emberbeat-desk [SHOW]
//
// It ends with 3 where the show cannot be read, and with 4 where the show, or a screen, is missing.
package main

import (
	"errors"
	"fmt"
	"os"

	"emberbeat/render/desk"
	"emberbeat/shows"
)

func main() { os.Exit(run(os.Args[1:])) }

func run(args []string) int {
	dir := ""
	switch {
	case len(args) == 1 && (args[0] == "-h" || args[0] == "--help"):
		fmt.Println("usage: emberbeat-desk [SHOW]\n\nOpens the window on the show in folder SHOW, or on its start page.")
		return 0
	case len(args) == 1:
		dir = args[0]
	case len(args) > 1:
		fmt.Fprintln(os.Stderr, "emberbeat-desk: give one show, or none for the start page")
		return 2
	}
	if err := desk.Run(dir); err != nil {
		fmt.Fprintln(os.Stderr, "emberbeat-desk:", err)
		return codeOf(err)
	}
	return 0
}

// codeOf gives the exit code of an error, as the other program does.
func codeOf(err error) int {
	var (
		unreadable *shows.UnreadableError
		newer      *shows.NewerError
	)
	if errors.As(err, &unreadable) || errors.As(err, &newer) {
		return 3
	}
	return 4
}
