package desk

import "emberbeat/render/widget"

// board keeps text inside the program: a browser gives its clipboard only when asked by its own means.
type board struct{ widget.Board }
