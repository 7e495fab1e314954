// Package tournament holds the rules of a tournament over several matches as a
// pure state machine, as package game does for one hosted game: Decide turns a
// command into an event, Apply turns an event into the next state. It has no
// I/O, no clock, no goroutine and no dice but a seed that it is handed, so the
// same log gives the same state. It must not know how a match is played: a
// match is linked with a game by its join code, and gets a result.
//
// What follows is written so that a quarrel can be settled by it. Where a
// published rule is followed, it is named; what the trade does without a
// printed source that we could open is called common practice; what is ours is
// called ours.
//
// # Formats, for 2 to 256 entrants
//
// Round robin: everybody meets everybody once, or twice, in the order of the
// Berger tables (FIDE Handbook C.05, annex). With an odd number one entrant has
// no match in each round; that brings no points.
//
// Single elimination: who loses is out. The seeding is the standard one: in a
// bracket of 2^k places first-round pairs add up to 2^k+1, and seeds 1 and 2 can
// meet in the final only. Places that nobody fills are byes for the top seeds.
// A match for the third place is an option.
//
// Double elimination: who has lost twice is out. Losers go on in a second
// chance beside the main part: those left there pair off, then meet those who
// have just lost in the main part, those in reversed order after even rounds and
// with halves exchanged after odd ones, so that opponents meet again late
// (ours; there is no standard). If the one that comes out of the second chance
// wins the final, both have lost once and a second final decides.
//
// Swiss: a declared number of rounds; nobody is out. The pairing follows the
// basic rules of FIDE Handbook C.04.1, without colours:
//
//   - Nobody meets an opponent twice while a pairing without that exists. A
//     match given up or not played counts as a meeting (ours, stricter than the
//     rule). Where no such pairing exists, there are as few rematches as can be.
//   - With an odd number, one has a bye, which is worth a win. Nobody has a
//     second one, or one after a win without playing, while there is anybody
//     else. It goes to the lowest that can have it without forcing a rematch.
//   - Entrants are taken from the top, by score, then by pairing number. Each
//     meets one of its own score if it can: the one half the group below it,
//     else the next below that one, else the next above. Nobody is chosen that
//     would force a rematch further down, and one that leaves fewer of the group
//     to play each other only if there is no other. Whoever finds nobody of its
//     score meets the highest of the next scores.
//
// Pools, then a bracket: entrants are dealt to pools there and back by seeding;
// each pool is a round robin; the best few of each go on to a single or double
// elimination. All firsts are seeded above all seconds, and so on; within the
// firsts, the seconds and so on the order is the one found by exchanging two
// while that has pool-mates meet later (ours).
//
// The order of seeding is that of entry, unless it is changed, or falls by lot
// at the draw (SplitMix64 and the shuffle of Fisher and Yates, by the
// tournament's seed). Entrants come and go freely before the draw, and nobody
// comes after it.
//
// # Results
//
// A win counts 1 point, a draw ½, a loss 0. A bracket has no draws: a level
// match is decided by one more question, and its winner is recorded with it. A
// forfeit or walkover counts as a win and a loss, without scores. In tables it
// may be recorded that neither side came: both have lost. In a bracket somebody
// has to go on; if neither comes, withdraw both.
//
// # Order and tie-breaks
//
// Tables are ordered by points. Those level are parted by the first of these
// that differs (the first three as FIDE Handbook C.07 names them):
//
//  1. Head to head: points from the matches among those level, if each of them
//     has met each other. Where that parts some, it is asked again among those
//     still level.
//  2. Buchholz, in Swiss tournaments: the points of all opponents.
//  3. Sonneborn-Berger: the points of those beaten, and half the points of
//     those drawn with.
//  4. Points ratio: of all scores in one's matches, the share that was one's
//     own; a score below nothing counts as nothing (common practice).
//  5. A play-off, or lots, recorded by the host. Until then those level share a
//     rank, and the table says that only a play-off can part them.
//
// In a Swiss tournament a bye, forfeit or walkover counts for 2 and 3 as a match
// against an opponent with one's own points: a plainer form of what C.07 does
// with unplayed rounds. Each line of a table says which of these parts it from
// the line above. The bracket is drawn only when the last place that goes on
// from each pool is settled.
//
// In a bracket those who go out in the same round share a rank.
//
// # Withdrawals
//
// Before the draw one who withdraws is simply not drawn. After it the matches
// not yet played are forfeited, and further:
//
//   - Round robin and pools: if fewer than half of its matches had a recorded
//     result, all its results are annulled: they stay on the sheet, and count
//     for nobody. Otherwise they stand, and the rest are wins for the others.
//     That is the usual rule for all-play-all chess (FIDE's General Regulations
//     for Competitions, recalled, not opened).
//   - Brackets: results stand, and each further match is a win for the other
//     side. If both sides of a match have withdrawn, nobody goes on from it.
//   - Swiss: results stand; one who has withdrawn is not paired again.
//   - After the pools, one who has withdrawn makes room for the next of its
//     pool; once the bracket is drawn the place stays and is forfeited.
//
// # Corrections
//
// A result may be corrected until the tournament is finished, or taken away if
// it was recorded for the wrong match.
//
//   - Tables are reckoned anew. Swiss rounds already paired stay as they are;
//     the next pairing goes by the corrected points (common practice).
//   - Brackets: a later match whose two sides stay the same keeps its result.
//     A match one of whose sides changes loses its result and its game and has
//     to be played again, and so do matches after it whose sides change or
//     become open by that. The event lists them.
//   - Pools with the bracket drawn: if others go on, or in other places, they
//     take their places in the bracket, and the same rule holds.
//
// Undo takes back the last command with all that followed from it, as often as
// wanted; redo brings it back until something new is done.
package tournament
