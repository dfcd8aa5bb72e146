//go:build !js

package desk

import "github.com/atotto/clipboard"

// board is the clipboard of the desktop.
type board struct{}

// Read gives the clipboard's text, or "" where there is none.
func (*board) Read() string {
	text, err := clipboard.ReadAll()
	if err != nil {
		return ""
	}
	return text
}

// Write puts text on the clipboard. Without one, the text stays inside the program.
func (*board) Write(text string) { _ = clipboard.WriteAll(text) }
