-- Puts results in place of others, all of them or none.
-- ARGV ms to keep, then game, old value and new value each

for i = 2, #ARGV, 3 do
  if redis.call('HGET', results, ARGV[i]) ~= ARGV[i + 1] then return {'AGAIN'} end
end
for i = 2, #ARGV, 3 do redis.call('HSET', results, ARGV[i], ARGV[i + 2]) end
rebuild()
keep(ARGV[1])
return {'OK'}
