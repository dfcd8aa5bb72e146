//go:build !unix

package desk

import "time"

// processorTime is not known here: the step between pictures stays as it is.
func processorTime() time.Duration { return 0 }
