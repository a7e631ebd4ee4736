# awk -f links.awk -v root=ROOT PAGE...: relative links of Markdown pages, with their anchors, and the paths that pages
# name in backticks. A heading's anchor is its text in small letters without punctuation, blanks as hyphens; the second
# of the same text has -1 behind it.

function anchor_of(heading,   a) {
  a = heading
  while (match(a, /\]\([^)]*\)/)) a = substr(a, 1, RSTART - 1) substr(a, RSTART + RLENGTH)
  a = tolower(a)
  gsub(/[^a-z0-9 _-]/, "", a)
  gsub(/ /, "-", a)
  return a
}

function read_anchors(file,   line, fenced, a, n) {
  if (file in read) return
  read[file] = 1
  while ((getline line < file) > 0) {
    if (line ~ /^ *```/) fenced = !fenced
    if (fenced || line !~ /^#+ /) continue
    sub(/^#+ +/, "", line)
    a = anchor_of(line)
    n = seen[file, a]++
    anchors[file, n ? a "-" n : a] = 1
  }
  close(file)
}

function exists(path) { return system("test -e \"" path "\"") == 0 }

function fault(what) { printf "%s:%d: %s\n", FILENAME, FNR, what; ++faults }

function check_link(target,   file, anchor, at) {
  if (target ~ /^(https?|mailto):/) return
  ++links
  at = index(target, "#")
  file = at ? substr(target, 1, at - 1) : target
  anchor = at ? substr(target, at + 1) : ""
  file = file == "" ? FILENAME : folder file
  if (!exists(file)) { fault("link to " target ": no such file"); return }
  if (anchor == "") return
  read_anchors(file)
  if (!((file, anchor) in anchors)) fault("link to " target ": no such heading")
}

function check_path(path) {
  sub(/[ ].*/, "", path)
  sub(/[.,:;]$/, "", path)
  # doe_1999 is the made-up method of "Where a new method goes".
  if (path ~ /[*<>$(){}|=]|doe_|\.\.\./) return
  if (path ~ /^(examples|tests|docs|include|bench|\.ci|\.setup|\.cmake)\//) {
    ++paths
    if (!exists(root "/" path)) fault("names " path ", which is not there")
  } else if (path ~ /^[a-z_]+\/[a-z_]+\.hpp$/) {
    ++paths
    if (!exists(root "/include/" path) && !exists(root "/include/hardchine/" path))
      fault("names the header " path ", which is not there")
  }
}

FNR == 1 {
  folder = FILENAME
  if (!sub(/[^\/]*$/, "", folder)) folder = ""
  fenced = 0
}
/^ *```/ { fenced = !fenced; next }
fenced { next }
{
  rest = $0
  while (match(rest, /`[^`]+`/)) {
    check_path(substr(rest, RSTART + 1, RLENGTH - 2))
    rest = substr(rest, RSTART + RLENGTH)
  }
  rest = $0
  gsub(/`[^`]*`/, "", rest)
  while (match(rest, /\]\([^) ]+( +"[^"]*")?\)/)) {
    target = substr(rest, RSTART + 2, RLENGTH - 3)
    rest = substr(rest, RSTART + RLENGTH)
    sub(/ .*/, "", target)  # a title
    check_link(target)
  }
  if (match(rest, /^\[[^\]]+\]: +[^ ]+/)) {
    target = substr(rest, RSTART, RLENGTH)
    sub(/^[^:]*: +/, "", target)
    check_link(target)
  }
}
END {
  printf "%d links, %d paths, %d faults\n", links, paths, faults
  exit faults != 0 || links == 0 || paths == 0
}
