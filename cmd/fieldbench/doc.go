// Command fieldbench measures the hub under load, beside a raw TCP
// writer and a plain server of the library that the hub reads with, in the same
// run on the same machine. It is a module of its own, so that it doesn't weigh on
// the program.
//
//	go run .                                2,000 phones, in one game and in 40
//	go run . -out ../../docs/bench.md       the same, kept
//	go run . -flood -phones 500 -games 10
//	go run . -against fieldsign-bolt -servers fieldsign-redis,fieldsign-redis-two
//	go run . -soak 10m -phones 5000 -games 100
//
// # Method
//
// This process is the phones and the hosts' consoles: one thread on epoll, so
// that the client is cheap and costs the same whatever it talks to. The server
// under test is a child process, which is this program started again.
//
// A pass runs each server once, in turn, so that whatever else the machine does
// falls on all alike. Each server's figure is divided by that of the raw TCP
// writer, or of the server named by -against, in the same pass; the table gives the median of these ratios over the
// passes, and the smallest and largest in brackets. With 50 rounds or fewer a
// pass's p99 is its slowest round.
//
// All servers get the same frames. A console sends "next", and the server
// sends a question to every phone of the game: the peers send 600 bytes, and
// Fieldsign what the question takes, which is some hundreds more. Its reveal
// comes with the team's own verdict, as a second frame in the same write. In a buzz a
// phone sends its press, and the server sends the verdict to every phone. The
// console then sends "skip", and everyone is sent the reveal. The peers
// do this for the mention of the word, know no rule and keep nothing; Fieldsign
// plays a real game, with a plan, teams that have joined and their scores, and
// also keeps its console up to date, which is told what is new of the teams.
//
// # Measures
//
// Fan-out is from the console's write of "next" to the moment at which the last
// phone has read the question. The stamps are this process's, for all servers
// alike: the time holds one trip to the server besides the fan-out. With one
// game after another it is the time of that game, with all games at once that
// from the first console's write to the last phone of all.
//
// Buzz to verdict is from the phone's write to the last phone of its game.
//
// The kinds on Redis start a redis-server of their own, whose CPU is in no
// figure. Two hubs are in one process and on the same cores as all else: what
// the bench shows is what sharing and forwarding cost, not what a second
// machine brings.
//
// CPU is what the server's process uses (getrusage) while all games play at
// once, over the two broadcasts that every phone gets for a question. What a
// server sends beyond them counts against it.
//
// Bytes are heap and stack in use (runtime.MemStats after collections) beyond
// those with the games open and no phone there, for each phone, idle before
// the first question and again after the last one. The kernel's socket buffers are
// not among them.
//
// Stalled: one phone more for every so many enters, with the smallest receive
// buffer and segments, and never reads. Twice as many questions are asked as it
// takes until a server can't send to it any more, and all are timed; the figure
// is the other phones' median over that in the same pass before it came, and
// likewise the slowest round. "Held up" means that the others waited for more
// than five seconds.
//
// A flood (-flood) times the fan-out of all games together, by itself and then
// beside 50 hostile clients in the first game, which are a process of their own:
// a quarter each sends up to a thousand frames a second, good and bad; never
// reads; leaves frames, messages and handshakes half done; comes and goes twenty
// times a second. The figure is the flooded fan-out over the quiet one of the
// same pass. It fails if an honest phone is dropped.
//
// A soak has the phones of all games answer questions for as long as is asked,
// with the log on the disk, and then leave. It fails if a connection was dropped
// or a goroutine stays behind, or if memory is a tenth larger at the end than
// half way.
package main
