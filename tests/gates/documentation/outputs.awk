# awk -f outputs.awk STORED... PAGE: every block without a language in PAGE is a piece of one stored output: its lines
# stand in one of the STORED files in the same order. A block that begins with "error:" is a compiler's.
FNR == 1 { ++file }
file < ARGC - 1 { stored[file, ++length_of[file]] = $0; name[file] = FILENAME; next }

function check(   f, line, k, best, where) {
  if (block[1] ~ /^error:/) return
  ++blocks
  for (f = 1; f < file; ++f) {
    line = 0
    for (k = 1; k <= lines; ++k) {
      while (++line <= length_of[f] && stored[f, line] != block[k]) {}
      if (line > length_of[f]) break
    }
    if (k > lines) return
    if (k > best) { best = k; where = name[f] }
  }
  printf "%s:%d: not what the program prints: \"%s\" (the lines before it are in %s)\n", FILENAME, start + best, block[best], where
  ++faults
}

!inside && /^```/ { inside = 1; plain = /^```$/; start = FNR; lines = 0; next }
inside && /^```$/ { inside = 0; if (plain) check(); next }
inside { block[++lines] = $0 }
END {
  printf "%d printed blocks, %d faults\n", blocks, faults
  exit faults != 0 || blocks == 0
}
