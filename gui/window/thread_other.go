//go:build !linux

package window

import "time"

// threadCPU returns 0: this system's figure by thread is not asked for.
func threadCPU() time.Duration { return 0 }
