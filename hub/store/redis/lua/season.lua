-- Put before each script on a season. Its results are what is kept; the sums
-- are worked out of them, step by step or all anew.
-- KEYS meta, results, points, before, sums
-- points and before are the teams by their points taken negative, so that the
-- best come first and equals in the order of their ids; before leaves out the
-- season's last date.

local meta, results, points, before, sums = unpack(KEYS)
local sealLength = 12

local function whole(n) return string.format('%.0f', n) end

-- open gives a sealed result's own fields, with its date and its place in the
-- order of games, or nil where it is damaged.
local function open(value)
  local ok, r = pcall(cjson.decode, string.sub(value, sealLength + 1))
  if not ok or type(r) ~= 'table' or type(r.began) ~= 'string' then return nil end
  r.date, r.order = string.sub(r.began, 1, 10), r.began .. ' ' .. r.game
  return r
end

local function counts(r) return type(r.lines) == 'table' and #r.lines > 0 end

-- later compares by bytes, which < does not do in every locale.
local function later(a, b)
  for i = 1, math.min(#a, #b) do
    local x, y = string.byte(a, i), string.byte(b, i)
    if x ~= y then return x > y end
  end
  return #a > #b
end

-- merged adds a line to what is known of its team. The name is that of the last game.
local function merged(t, r, l, named)
  t = t or {right = 0, of = 0, games = 0}
  t.right, t.of, t.games = t.right + l.right, t.of + l.of, t.games + 1
  if named then t.name, t.order = l.name, r.order end
  return t
end

local function add(r)
  if not counts(r) then return end
  local last = redis.call('HGET', meta, 'last') or ''
  if later(r.date, last) then
    redis.call('ZUNIONSTORE', before, 1, points)
    last = r.date
    redis.call('HSET', meta, 'last', last)
  end
  local early = later(last, r.date)
  for _, l in ipairs(r.lines) do
    redis.call('ZINCRBY', points, -l.points, l.team)
    if early then redis.call('ZINCRBY', before, -l.points, l.team) end
    local known = redis.call('HGET', sums, l.team)
    local t = known and cjson.decode(known)
    redis.call('HSET', sums, l.team, cjson.encode(merged(t, r, l, not t or later(r.order, t.order))))
  end
end

-- rebuild works the sums out of all results, and writes each team once.
local function rebuild()
  local all = {}
  for _, value in ipairs(redis.call('HVALS', results)) do
    local r = open(value)
    if r and counts(r) then all[#all + 1] = r end
  end
  table.sort(all, function(a, b) return later(b.order, a.order) end)
  local last = #all > 0 and all[#all].date or ''
  local teams, now, earlier = {}, {}, {}
  for _, r in ipairs(all) do
    local early = later(last, r.date)
    for _, l in ipairs(r.lines) do
      teams[l.team] = merged(teams[l.team], r, l, true)
      now[l.team] = (now[l.team] or 0) - l.points
      if early then earlier[l.team] = (earlier[l.team] or 0) - l.points end
    end
  end
  redis.call('DEL', points, before, sums)
  redis.call('HSET', meta, 'last', last)
  for team, t in pairs(teams) do
    redis.call('ZADD', points, now[team], team)
    if earlier[team] then redis.call('ZADD', before, earlier[team], team) end
    redis.call('HSET', sums, team, cjson.encode(t))
  end
end

local function keep(ms)
  for _, key in ipairs(KEYS) do redis.call('PEXPIRE', key, ms) end
end
