package page

// Reasons why a command cannot be used; "" means that it can.

// NeedShow asks for an open show.
func NeedShow(h Host) string {
	if h.Show() == nil {
		return "open a show first"
	}
	return ""
}

// NeedEdit asks for a show that can be changed.
func NeedEdit(h Host) string {
	switch {
	case h.Show() == nil:
		return "open a show first"
	case h.ReadOnly():
		return "the show is open read-only: another program has it"
	}
	return ""
}

// NeedChosen asks for chosen rows.
func NeedChosen(h Host) string {
	if why := NeedShow(h); why != "" {
		return why
	}
	if len(h.Chosen()) == 0 {
		return "choose a row of the table first"
	}
	return ""
}

// NeedChosenEdit is NeedChosen for what changes the show.
func NeedChosenEdit(h Host) string {
	if why := NeedEdit(h); why != "" {
		return why
	}
	return NeedChosen(h)
}

// Free is the reason of what can always be used.
func Free() string { return "" }

// With gives the reason of a host as one that is asked of nobody.
func With(h Host, need func(Host) string) func() string { return func() string { return need(h) } }

// NeedNight asks for a night in view; what says which.
func NeedNight(h Host, what string) string {
	if h.Plan().Night == nil {
		return "choose " + what + " at the top right"
	}
	return ""
}
