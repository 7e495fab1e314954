-- Appends a batch to a game's log: all of it, or nothing.
-- KEYS meta, log, order, lines
-- ARGV token, first, count, ended, ms to keep, ms to keep once ended,
--      teams (-1 leaves the standings), the records, then a team and its line each

local meta, log, order, lines = unpack(KEYS)
local token, first, count, ended = ARGV[1], tonumber(ARGV[2]), tonumber(ARGV[3]), ARGV[4] == '1'
local teams = tonumber(ARGV[7])
local records = 7

local function id(seq) return whole(seq) .. '-0' end

local no = refused(meta, token)
if no then return no end

local last = tonumber(redis.call('HGET', meta, 'last') or '0')
if count == 0 and last == 0 then return {'UNKNOWN'} end
if count > 0 and first ~= last + 1 then
  local repeated = first + count - 1 == last
    and ends(log, id(first), id(last), count, function(i) return ARGV[records + i] end)
  if repeated then return {'OK'} end
  if first > last + 1 then return {'LOST', whole(last)} end
  return {'CONFLICT', whole(last)}
end

for i = 1, count do
  redis.call('XADD', log, id(last + i), 'r', ARGV[records + i])
end
redis.call('HSET', meta, 'last', whole(last + count))
if teams >= 0 then
  redis.call('DEL', order, lines)
  for i = 1, teams do
    local at = records + count + 2 * i - 1
    redis.call('ZADD', order, i, ARGV[at])
    redis.call('HSET', lines, ARGV[at], ARGV[at + 1])
  end
end
if ended then redis.call('HSET', meta, 'ended', '1') end

local keep = ARGV[5]
if redis.call('HEXISTS', meta, 'ended') == 1 then keep = ARGV[6] end
for _, key in ipairs(KEYS) do redis.call('PEXPIRE', key, keep) end
return {'OK'}
