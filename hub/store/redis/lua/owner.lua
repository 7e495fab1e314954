-- Put before each script that only the owner of a game may run. Time is the
-- server's alone: no hub's clock has a say in whose a game is.

local function whole(n) return string.format('%.0f', n) end

local function micros()
  local t = redis.call('TIME')
  return t[1] * 1000000 + t[2]
end

-- refused is the answer to whoever doesn't hold the running lease, or nil. A
-- game that never was leased is anyone's, with the token 0.
local function refused(meta, token)
  local m = redis.call('HMGET', meta, 'token', 'until')
  local current, over = m[1] or '0', tonumber(m[2] or '0')
  if current == '0' and token == '0' then return nil end
  if current ~= token or over <= micros() then return {'FENCED', current} end
end

-- ends tells whether a stream's last entries, from one id to another, are just
-- these values: then a call whose answer was lost is being repeated.
local function ends(stream, from, to, count, value)
  local kept = redis.call('XRANGE', stream, from, to, 'COUNT', count + 1)
  if #kept ~= count then return false end
  for i, entry in ipairs(kept) do
    local fields = entry[2]
    for f = 2, #fields, 2 do
      if fields[f] ~= value(i, f / 2) then return false end
    end
  end
  return true
end
