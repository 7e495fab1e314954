-- Takes frames out of the mailbox. Each by its id, not all up to one: after a
-- failover, frames may have come in under lower ids than were seen before.
-- KEYS meta, in   ARGV token, the ids

local no = refused(KEYS[1], ARGV[1])
if no then return no end
for i = 2, #ARGV do redis.call('XDEL', KEYS[2], ARGV[i]) end
return {'OK'}
