// Package redis keeps the hub's games on Redis 7.0 or later, for several hubs
// that share them: on one server, on a primary with replicas that sentinels
// watch, or on a cluster. It knows nothing of the rules: records are opaque
// bytes.
//
// # Address
//
//	redis://[user:password@]host[:port][/database]
//	redis+cluster://[user:password@]host:port[?addr=host:port&addr=...]
//	redis+sentinel://[user:password@]sentinel:port[/database]?primary=name[&addr=sentinel:port...][&sentinel_password=...]
//
// With rediss instead of redis the connections use TLS. User and password are
// the data servers'; any node of a cluster and any sentinel finds the others.
//
// # Layout
//
// All begins with a prefix, "fieldsign:" by default. A game's keys share its id
// in braces, so that a cluster keeps them together and one script may touch
// all of them.
//
//	{<game>}:meta    hash: last (record), ended; hub, token, until (of the lease)
//	{<game>}:log     stream: record <seq> has the id <seq>-0
//	{<game>}:order   sorted set: the teams by their place, the best first
//	{<game>}:lines   hash: each team's line, as JSON
//	photo:{<id>}     hash: info, jpeg
//	season:{<id>}:meta     hash: info (how it is shown), last (date)
//	season:{<id>}:results  hash: what each game's teams take to it, as JSON
//	season:{<id>}:points   sorted set: the teams by their points, taken negative
//	season:{<id>}:before   sorted set: the same without the season's last date
//	season:{<id>}:sums     hash: of each team name, right, of and games, as JSON
//	index:games, index:photos, index:seasons   sorted sets: ids, by when they were noted
//	on:photos              sharded channel: a photo was added or deleted
//
// Records, lines, photos and results are sealed with a checksum (see package seal).
// The place is a team's score in the sorted set because ties are the rules'
// business, and because a place is exact where a float of points may not be.
// The indexes lie on servers of their own choice and so can't be written in one
// step with a game; see index.go for why no game is missing there.
//
// A game's keys expire: a time after its last write, a shorter one after it has
// ended. Photos stay until they are deleted, a season 400 days after its last
// change.
//
// A season's sums follow from its results. A game that is counted is added to
// them; whatever else changes (a game counted anew or taken out, a team erased)
// has them worked out again from all results, in the same step.
//
// # Steps
//
// Whatever must be atomic is one Lua script, a file each. Append checks the
// token of the lease and the number of the first record, and writes records,
// standings, mark and expiry, or nothing. Any step may be repeated: the client
// does after a lost answer, and so may the caller after ErrUnavailable.
//
// # Ownership
//
// A lease ends by the clock of the Redis server alone; those of a primary and
// its replicas should agree to a fraction of a lease. An owner's writes are
// refused from the moment its lease is over, even if nobody else has it yet: a
// primary that froze and was replaced wakes with all leases over and so takes
// no more of the old owner's writes, as long as a lease is shorter than a
// failover takes. Whoever is refused acquires the game anew and reads its log.
// Tokens come from the clock where it is ahead of the last token, so that none
// is given twice even if a failover lost the last acquisition.
//
// # Wake-ups
//
// A hub is woken when another adds or deletes a photo. The message only says
// "read": it may be lost, so a hub that connects anew reads too, and each looks
// by itself from time to time.
//
// # Failures
//
// Each call ends within two seconds. ErrUnavailable stands for a server that is
// gone, starting, failing over, a replica, without its own replicas, out of
// memory or unable to write its disk. Redirections within a cluster and the way
// to a new primary are the client's affair.
//
// For some ten seconds after it wakes, a primary that was replaced while it
// was frozen or cut off still takes writes from whoever asks it, a new lease
// among them, and loses them when it is told to follow. Only
// min-replicas-to-write 1 with a min-replicas-max-lag of some seconds has it
// refuse from the start.
//
// What an accepted write outlives is for Redis' settings to say; Durability
// puts it in words. Replication is asynchronous: a failover may lose the last
// accepted writes. That is noticed, not prevented: the owner's next batch gets
// ErrLost or ErrFenced, and a Lease tells the log's last record, which its
// owner compares with the last one it saw accepted.
package redis
