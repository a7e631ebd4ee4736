# Judges one program: awk -v compiler= -v file= -v pair= -v status= -f judge.awk FILE MESSAGE
# FILE is a file of pairs, MESSAGE what the compiler said to its program with the pair wrong ("right": nothing wrong),
# STATUS how the compiler ended. Prints one verdict: "failed" and the fact, or "fine" and how long the message is.

function fail(fact) {
    printf "failed %s:%d: %s, %s: %s\n", file, first, pair, compiler, fact
    judged = 1
    exit
}

BEGIN {
    limit = 25  # lines from our own line to the useful word, for the common mistakes
    short_name = file
    sub(/.*\//, "", short_name)
}

# The file of pairs: what stands above the pair belongs to it.
FNR == NR {
    source[FNR] = $0
    if (/^\/\/ words: /) words = substr($0, 11)
    if (/^\/\/ points at: /) place = substr($0, 15)
    if (/^\/\/ common: /) common = substr($0, 12)
    if ($0 == "#ifdef WRONG_" pair) {
        wanted = words
        pointed = place
        mistake = common
        first = FNR + 1
        inside = 1
    } else if (/^#(else|endif)/) {
        if (inside) last = FNR - 1
        inside = 0
        words = place = common = ""
    }
    next
}

# The message.
{
    text = $0
    characters[FNR] = length(text) + 1
    is_error = text ~ /(^|: )(fatal )?error: /
    if (is_error && !errors++) first_error = text
    if (index(text, short_name ":") && match(text, /\.cpp:[0-9]+:[0-9]+:/)) {
        split(substr(text, RSTART + 5, RLENGTH - 6), at, ":")
        if (at[1] + 0 >= first && at[1] + 0 <= last) {
            if (!from) from = FNR
            if (is_error && !error_row) {
                error_row = at[1] + 0
                error_column = at[2] + 0
            }
        } else if (is_error) {
            elsewhere = FNR
        }
    }
    sub(/^[^ ]*:[0-9]+:[0-9]+: /, "", text)
    echo = text
    sub(/^ *[0-9]+ \| /, "", echo)
    # The echo of our own program holds its words in any case: it counts only as the place pointed at.
    own = 0
    for (row = first; row <= last; ++row) if (echo == source[row]) own = row
    if (own) {
        if (pointed != "" && !shown && own == error_row) {
            column = index(source[own], pointed)
            next_field = index(substr(source[own], column + 1), ", .") + column
            if (column && column <= error_column && (next_field == column || error_column < next_field)) shown = FNR
        }
        next
    }
    gsub(/boost::units::/, "", text)
    gsub(/_base_dimension, ?static_rational</, " ", text)
    if (wanted != "" && !said && text ~ wanted) said = FNR
}

END {
    if (judged) exit
    if (pair == "right") {
        if (status == 0) printf "fine 0 0 %s %s right\n", compiler, short_name
        else printf "failed %s: with nothing wrong, %s does not compile it: %s\n", file, compiler, first_error
        exit
    }
    if (wanted == "" && pointed == "") fail("no \"// words: \" or \"// points at: \" above the pair")
    if (last < first) fail("no wrong line")
    if (status == 0) fail("compiles, though wrong")
    if (status != 1 || !errors) fail("the compiler ended with " status " and no error message")
    if (!from) fail("no message about the wrong line")
    if (elsewhere) fail("an error about another line: line " elsewhere " of its message")
    if (wanted != "" && !said) fail("nothing in the message fits \"" wanted "\"")
    if (pointed != "" && !shown) fail("the message does not point at \"" pointed "\"")
    low = high = from
    if (said) { if (said < low) low = said; if (said > high) high = said }
    if (shown && shown > high) high = shown
    for (row = low; row <= high; ++row) sum += characters[row]
    lines = high - low + 1
    if (mistake != "" && lines > limit) fail("a common mistake, but " lines " lines to the useful word")
    printf "fine %d %d %s %s %s %s\n", lines, sum, compiler, short_name, pair, mistake
}
