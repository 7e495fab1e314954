-- Makes a running lease end later.
-- KEYS meta   ARGV token, ms from now

local no = refused(KEYS[1], ARGV[1])
if no then return no end
redis.call('HSET', KEYS[1], 'until', whole(micros() + ARGV[2] * 1000))
return {'OK'}
