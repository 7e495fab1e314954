//go:build !linux

package socket

// parking parks nobody: where there is no epoll, each connection keeps its reader.
type parking struct{}

func newParking() *parking       { return &parking{} }
func (*parking) park(*Conn) bool { return false }
func (*parking) wake(*Conn)      {}
func (*parking) run()            {}
func (*parking) close()          {}
