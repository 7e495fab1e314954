-- Puts frames in the mailbox of a game's owner, or none where there is no room.
-- KEYS meta, in
-- ARGV from, most that may wait, ms to keep, channel, the frames

local meta, box = unpack(KEYS)
if redis.call('HEXISTS', meta, 'last') == 0 then return {'UNKNOWN'} end
local count = #ARGV - 4
if redis.call('XLEN', box) + count > tonumber(ARGV[2]) then return {'FULL'} end
for i = 1, count do
  redis.call('XADD', box, '*', 'hub', ARGV[1], 'data', ARGV[4 + i])
end
redis.call('PEXPIRE', box, ARGV[3])
redis.call('SPUBLISH', ARGV[4], '')
return {'OK'}
