//go:build !windows

package main

// holdWindow has nothing to do where a window stays when its program ends.
func holdWindow() {}
