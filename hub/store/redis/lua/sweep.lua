-- Takes ids out of an index whose keys are gone, unless noted a moment ago:
-- those are about to come.
-- KEYS index   ARGV seconds that a moment lasts, the ids

local old = redis.call('TIME')[1] - ARGV[1]
for i = 2, #ARGV do
  local noted = redis.call('ZSCORE', KEYS[1], ARGV[i])
  if noted and tonumber(noted) < old then redis.call('ZREM', KEYS[1], ARGV[i]) end
end
return {'OK'}
