-- Makes a hub the owner of a game, unless another's lease is running.
-- KEYS meta
-- ARGV hub, ms of the lease, ms to keep a game that never begins

local meta, hub, ttl = KEYS[1], ARGV[1], tonumber(ARGV[2])
local m = redis.call('HMGET', meta, 'hub', 'token', 'until', 'last')
local now, last = micros(), m[4] or '0'
local left = tonumber(m[3] or '0') - now
if left > 0 and m[1] ~= hub then return {'OWNED', m[1], m[2], whole(left), last} end

-- From the clock, so that a token isn't used anew where the game was deleted,
-- or where a failover lost the last acquisition.
local token = whole(math.max(tonumber(m[2] or '0') + 1, now))
redis.call('HSET', meta, 'hub', hub, 'token', token, 'until', whole(now + ttl * 1000))
if not m[4] then redis.call('PEXPIRE', meta, ttl + ARGV[3]) end
return {'OK', hub, token, whole(ttl * 1000), last}
