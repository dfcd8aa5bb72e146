package rule

import (
	"emberbeat/timeline"
)

// throwSetting is the setting of separation and performers that says how far a
// tilted shot is taken to go.
func throwSetting() Setting {
	return Setting{Name: "throw", Default: "1", Mark: timeline.Derived, Source: "derived: a throw without drag that would rise to the article's height straight up, with the venue's tolerance; measure your own",
		Help: "part of it that a tilted comet, mine or airburst is taken to go before its fallout comes down"}
}

// pathThrow is the place of the setting throw, in separation and performers.
var pathThrow = setting("throw", "separation", "performers")
