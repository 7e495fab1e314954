# Recomputes a debrief from its exported results. It shares nothing with the
# program that made them: it reads CSV by itself and uses textbook formulas.
# Prints a name, a tab and a number or "undefined" on each line.

# split_csv splits a record by RFC 4180 into cell[1..]; no line breaks in cells.
function split_csv(line,    i, c, n, quoted) {
	delete cell; n = 1; quoted = 0; cell[1] = ""
	for (i = 1; i <= length(line); i++) {
		c = substr(line, i, 1)
		if (quoted && c == "\"" && substr(line, i + 1, 1) == "\"") { cell[n] = cell[n] c; i++ }
		else if (c == "\"") quoted = !quoted
		else if (c == "," && !quoted) cell[++n] = ""
		else cell[n] = cell[n] c
	}
	return n
}

function say(name, value) { printf "%s\t%s\n", name, value }
function number(x) { return sprintf("%.12f", x) }

function wilson(name, k, n,    z, p, c, h, d) {
	z = 1.959963984540054; p = k / n; d = n + z * z
	c = (k + z * z / 2) / d
	h = z / d * sqrt(k * (n - k) / n + z * z / 4)
	say(name " right", k); say(name " of", n); say(name " share", number(p))
	say(name " low", number(c - h)); say(name " high", number(c + h))
}

# median sorts the times of a question by insertion.
function median(q, n,    i, j, x) {
	for (i = 2; i <= n; i++) {
		x = time[q, i]
		for (j = i - 1; j >= 1 && time[q, j] > x; j--) time[q, j + 1] = time[q, j]
		time[q, j + 1] = x
	}
	return n % 2 ? time[q, (n + 1) / 2] : (time[q, n / 2] + time[q, n / 2 + 1]) / 2
}

# pearson correlates a question's marks with the teams' totals, from which the
# mark is taken away where less is 1.
function pearson(q, less,    t, n, x, y, mx, my, xy, xx, yy) {
	for (t in total) { mx += mark[q, t]; my += total[t] - less * mark[q, t]; n++ }
	if (n == 0) return "undefined"
	mx /= n; my /= n
	for (t in total) {
		x = mark[q, t] - mx; y = total[t] - less * mark[q, t] - my
		xy += x * y; xx += x * x; yy += y * y
	}
	return xx < 1e-9 || yy < 1e-9 ? "undefined" : number(xy / sqrt(xx * yy))
}

{ sub(/\r$/, "") }
NR == 1 { for (i = split_csv($0); i >= 1; i--) col[cell[i]] = i; next }
{
	split_csv($0)
	q = "question " cell[col["round"]] "/" cell[col["question"]]; t = cell[col["team"]]
	right = cell[col["right"]]; ms = cell[col["ms"]]; option = cell[col["option"]]
	asked[q]++; hits[q] += right
	due[t]++; good[t] += right; points[t] += cell[col["points"]]
	if (ms != "") time[q, ++answered[q]] = ms + 0
	if (option != "") taken["taken " cell[col["subject"]] ": " cell[col["key"]] " for " option]++
	if (cell[col["kind"]] == "open") { open[q] = 1; sat[t]++; mark[q, t] = right }
}
END {
	for (q in asked) wilson(q, hits[q], asked[q])
	for (t in due) { wilson("team " t, good[t], due[t]); say("team " t " points", points[t]) }
	for (q in answered) say(q " median", number(median(q, answered[q])))
	for (m in taken) say(m, taken[m])
	for (q in open) k++
	for (t in sat) if (sat[t] == k) { total[t] = 0; n++; for (q in open) total[t] += mark[q, t]; sum += total[t] }
	if (n > 0) mean = sum / n
	for (t in total) variance += (total[t] - mean) ^ 2 / n
	for (q in open) { p = 0; for (t in total) p += mark[q, t] / n; pq += p * (1 - p) }
	say("test teams", n + 0); say("test items", k + 0); say("test mean", number(mean)); say("test sd", number(sqrt(variance)))
	say("test kr20", number(k / (k - 1) * (1 - pq / variance)))
	say("test kr21", number(k / (k - 1) * (1 - mean * (k - mean) / (k * variance))))
	for (q in open) { say(q " item-total", pearson(q, 0)); say(q " item-rest", pearson(q, 1)) }
}
