-- Ends a lease, if it is the caller's.
-- KEYS meta   ARGV token

if refused(KEYS[1], ARGV[1]) == nil then redis.call('HSET', KEYS[1], 'until', '0') end
return {'OK'}
