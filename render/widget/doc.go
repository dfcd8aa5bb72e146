// Package widget holds the few controls the program is made of: buttons, fields, lists, menus, dialogs. It has one rule: a control is a
// function of what is given this frame. It draws itself into a render.Scene, answers what happened to it, and owns no data of the show;
// between frames it keeps only what is not data: focus, caret, draft, scroll position, open menu.
//
// A frame runs from UI.Begin to UI.End. Between them call the controls in the order in which Tab shall visit them:
//
//	ui.Begin(&input, scene, &theme)
//	form := ui.Form(panel, 120)
//	if e := ui.TextField("title", form.Row("Title"), song.Title, widget.TextSpec{}); e.Committed {
//		rename(e.Text)
//	}
//	if ui.Off(whyNot).Button("save", form.Row(""), "Save") {
//		save()
//	}
//	ui.End()
//	for _, k := range ui.Left() { … } // keys that no control took: the program's commands
//
// Every control has a key, unique within its scope (UI.Push, UI.Pop). What is under the pointer is judged by the frame the user saw, the
// one before. Rectangles are device pixels; numbers named in logical pixels pass through UI.Px. Time is handed in; nothing here reads a
// clock. UI.Wake says when a frame is due although nothing was done.
//
// Space belongs to playback everywhere outside text, so Enter works the focused control.
package widget
