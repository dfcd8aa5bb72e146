package ear

// Label names what an onset sounds like.
type Label string

// Labels in the order of Hit.Probability.
var Labels = [labelCount]Label{Kick, Snare, Hat, Crash, Tonal}

// The labels.
const (
	Kick  Label = "kick"
	Snare Label = "snare"
	Hat   Label = "hat"
	Crash Label = "crash"
	Tonal Label = "tonal"

	labelCount = 5
)
