//go:build !linux

package hub

// lot parks nobody: where there is no epoll, each connection keeps its reader.
type lot struct{}

func newLot() *lot             { return &lot{} }
func (*lot) park(*client) bool { return false }
func (*lot) wake(*client)      {}
func (*lot) run()              {}
func (*lot) close()            {}
