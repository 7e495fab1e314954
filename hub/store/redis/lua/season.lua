-- Put before each script on a season. Its results are what is kept; the sums
-- are worked out of them, step by step or all anew.
-- KEYS meta, results, points, before, sums
-- points and before are the teams by their points taken negative, so that the
-- best come first and equals in the order of their ids; before leaves out the
-- season's last date.

local meta, results, points, before, sums = unpack(KEYS)
local sealLength = 12

local function whole(n) return string.format('%.0f', n) end

-- open gives a sealed result's own fields, or nil where it is damaged.
local function open(value)
  local ok, r = pcall(cjson.decode, string.sub(value, sealLength + 1))
  if ok and type(r) == 'table' and type(r.began) == 'string' then return r end
end

local function date(r) return string.sub(r.began, 1, 10) end
local function counts(r) return type(r.lines) == 'table' and #r.lines > 0 end

-- later compares by bytes, which < does not do in every locale.
local function later(a, b)
  for i = 1, math.min(#a, #b) do
    local x, y = string.byte(a, i), string.byte(b, i)
    if x ~= y then return x > y end
  end
  return #a > #b
end

local function call(team, l, r)
  local known = redis.call('HGET', sums, 'from:' .. team)
  local from = r.began .. ' ' .. r.game
  if known and later(known, from) then return end
  redis.call('HSET', sums, 'from:' .. team, from, 'name:' .. team, l.name)
end

local function add(r)
  if not counts(r) then return end
  local last = redis.call('HGET', sums, 'last') or ''
  if later(date(r), last) then
    redis.call('ZUNIONSTORE', before, 1, points)
    last = date(r)
    redis.call('HSET', sums, 'last', last)
  end
  for _, l in ipairs(r.lines) do
    redis.call('ZINCRBY', points, -l.points, l.team)
    if later(last, date(r)) then redis.call('ZINCRBY', before, -l.points, l.team) end
    redis.call('HINCRBY', sums, 'right:' .. l.team, whole(l.right))
    redis.call('HINCRBY', sums, 'of:' .. l.team, whole(l.of))
    redis.call('HINCRBY', sums, 'games:' .. l.team, 1)
    call(l.team, l, r)
  end
end

-- rebuild works the sums out of all results.
local function rebuild()
  redis.call('DEL', points, before, sums)
  local all, last = {}, ''
  for _, value in ipairs(redis.call('HVALS', results)) do
    local r = open(value)
    if r and counts(r) then
      all[#all + 1] = r
      if later(date(r), last) then last = date(r) end
    end
  end
  if #all > 0 then redis.call('HSET', sums, 'last', last) end
  for _, r in ipairs(all) do add(r) end
end

local function keep(ms)
  for _, key in ipairs(KEYS) do redis.call('PEXPIRE', key, ms) end
end
