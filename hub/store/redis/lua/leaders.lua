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
  local t = cjson.decode(redis.call('HGET', sums, team) or '{"name":"","right":0,"of":0,"games":0}')
  for _, v in ipairs({team, t.name, rank(points, score), earlier and rank(before, earlier) or '0',
      whole(0 - tonumber(score)), whole(t.right), whole(t.of), whole(t.games)}) do
    answer[#answer + 1] = v
  end
end
return answer
