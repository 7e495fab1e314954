# Makes a season's table of its exported results: rank, name, points, right/of, games.
BEGIN { RS = "\r\n" }
function cells(line, out,   n, c, i, quoted, cell) {
  n = 0; cell = ""; quoted = 0
  for (i = 1; i <= length(line); i++) {
    c = substr(line, i, 1)
    if (c == "\"") {
      if (quoted && substr(line, i + 1, 1) == "\"") { cell = cell c; i++ } else quoted = !quoted
    } else if (c == "," && !quoted) { out[++n] = cell; cell = "" } else cell = cell c
  }
  out[++n] = cell
}
NR == 1 { cells($0, head); for (i in head) at[head[i]] = i; next }
{
  cells($0, f)
  team = tolower(f[at["team"]])
  name[team] = f[at["team"]]
  points[team] += f[at["points"]]; right[team] += f[at["right"]]; of[team] += f[at["of"]]; games[team]++
}
END {
  for (t in name) {
    rank = 1
    for (u in name) if (points[u] > points[t]) rank++
    print rank " " name[t] " " points[t] " " right[t] "/" of[t] " " games[t]
  }
}
