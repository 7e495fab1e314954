-- The first lines of the table: eight values for each.
-- ARGV how many

if redis.call('EXISTS', meta) == 0 then return {'UNKNOWN'} end
local answer = {'OK'}
local top = {}
if tonumber(ARGV[1]) > 0 then top = redis.call('ZRANGE', points, 0, ARGV[1] - 1, 'WITHSCORES') end

local function rank(set, score) return whole(redis.call('ZCOUNT', set, '-inf', '(' .. score) + 1) end

for i = 1, #top, 2 do
  local team, score = top[i], top[i + 1]
  local earlier = redis.call('ZSCORE', before, team)
  local s = redis.call('HMGET', sums, 'name:' .. team, 'right:' .. team, 'of:' .. team, 'games:' .. team)
  for _, v in ipairs({team, s[1] or '', rank(points, score), earlier and rank(before, earlier) or '0',
      whole(0 - tonumber(score)), s[2] or '0', s[3] or '0', s[4] or '0'}) do
    answer[#answer + 1] = v
  end
end
return answer
