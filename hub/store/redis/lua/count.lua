-- Keeps a game's result, and counts it.
-- ARGV ms to keep, a new season's info, game, result, due, anew

redis.call('HSETNX', meta, 'info', ARGV[2])
local game, value, due, anew = ARGV[3], ARGV[4], ARGV[5] == '1', ARGV[6] == '1'
local old = redis.call('HGET', results, game)
local had = old and open(old)
if old and not anew and not (had and had.due and not due) then return {'OK'} end

redis.call('HSET', results, game, value)
if old and not (had and not counts(had)) then rebuild() else add(open(value)) end
keep(ARGV[1])
return {'OK'}
