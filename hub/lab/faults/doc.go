// Package faults plays games on hubs that fail, and holds what the players were
// told against what the store has: no acknowledged press or answer may be lost
// or counted twice, and no buzz may have two winners. It is for tests; what
// fails, and when, is theirs.
//
// A Phone and a Host come back by any of the game's hubs, and repeat a command
// under its id until they get its answer, as the pages do. What they were told
// goes into a Journal. Audit compares that with the game's log; Linearizable
// searches for an order of all that was told which the rules allow.
package faults
