package app

func needUndo(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if undo, _ := a.work.Session.Labels(); len(undo) == 0 {
		return "nothing to undo"
	}
	return ""
}

func needRedo(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if _, redo := a.work.Session.Labels(); len(redo) == 0 {
		return "nothing to do again"
	}
	return ""
}

func (a *App) undo() {
	if label, ok := a.work.Session.Undo(); ok {
		a.tell("took back: %s", label)
		a.say("undid %s", label)
	}
}

func (a *App) redo() {
	if label, ok := a.work.Session.Redo(); ok {
		a.note, a.again = note{text: label}, true
		a.say("redid %s", label)
	}
}
