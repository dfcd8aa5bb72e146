// Package operation describes once what a user can do: what it is called, what
// it takes, the edit it makes, and the words in which it is told. Verbs with
// their flags, help and completion, the forms and menu entries of the window,
// labels of the journal, lists and sheets are read off it, so that none of them
// can say otherwise than another.
package operation
