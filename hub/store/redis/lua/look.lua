-- Who owns a game that has begun, and for how long yet.
-- KEYS meta

local m = redis.call('HMGET', KEYS[1], 'hub', 'token', 'until', 'last')
if not m[4] then return {'UNKNOWN'} end
return {'OK', m[1] or '', m[2] or '0', whole(tonumber(m[3] or '0') - micros()), m[4]}
