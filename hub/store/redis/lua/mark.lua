-- Notes an id in an index, and when.
-- KEYS index   ARGV id

redis.call('ZADD', KEYS[1], redis.call('TIME')[1], ARGV[1])
return {'OK'}
