package main

import "context"

func packs(ctx context.Context, c *call) (bool, error) { return false, errUsage }
