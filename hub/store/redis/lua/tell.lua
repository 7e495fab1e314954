-- Says an owner's frames to other hubs, numbered without a gap under its token.
-- KEYS meta, out
-- ARGV token, how many were told before, most to keep, ms to keep, channel,
--      then whom for and data, for each frame

local meta, out = unpack(KEYS)
local token, before = ARGV[1], tonumber(ARGV[2])
local frames = 5
local count = (#ARGV - frames) / 2

local function id(n) return token .. '-' .. whole(n) end

local no = refused(meta, token)
if no then return no end
local told = tonumber(redis.call('HGET', meta, 'told') or '0')
if told ~= before then
  local repeated = told == before + count
    and ends(out, id(before + 1), id(told), count, function(i, f) return ARGV[frames + 2 * (i - 1) + f] end)
  if repeated then return {'OK'} end
  return {'CONFLICT', whole(told)}
end
for i = 1, count do
  local at = frames + 2 * i - 1
  redis.call('XADD', out, 'MAXLEN', '~', ARGV[3], id(told + i), 'hub', ARGV[at], 'data', ARGV[at + 1])
end
redis.call('HSET', meta, 'told', whole(told + count))
redis.call('PEXPIRE', out, ARGV[4])
redis.call('SPUBLISH', ARGV[5], '')
return {'OK'}
