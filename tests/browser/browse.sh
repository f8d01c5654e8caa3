# What the scripts beside this share: PROGRAM BROWSER FIELD..., a folder to work in, the browser.
# shellcheck shell=sh
program=$1
browser=$2
shift 2
scratch=$(mktemp -d "${TMPDIR:-/tmp}/evenrow-browser.XXXXXX") || exit 2
trap 'rm -rf "$scratch"' EXIT
trap 'exit 2' HUP INT TERM

# browse PAGE OPTION...: what the browser says goes to $scratch/said.
# --no-sandbox: the sandbox does not start for root; the page is our own.
browse() {
    page=$1
    shift
    timeout 300 "$browser" --headless --no-sandbox --disable-gpu --disable-dev-shm-usage \
        --no-first-run --user-data-dir="$scratch/profile" "$@" "file://$page" \
        2>"$scratch/said"
}

# found PAGE OPTION...: shows a page that measures something, and prints what it found, which is
# kept in $scratch/found. Ends the script where the page did not come to its end.
found() {
    browse "$@" --dump-dom >"$scratch/dom"
    sed -n '/<pre id="found">/,/<\/pre>/p' "$scratch/dom" | sed -e 's/<pre id="found">//' \
        -e 's/<\/pre>.*//' -e 's/&lt;/</g' -e 's/&gt;/>/g' -e 's/&amp;/\&/g' >"$scratch/found"
    cat "$scratch/found"
    if ! grep -qx 'END' "$scratch/found"; then
        echo "The page was not measured; the browser said:"
        tail -n 20 "$scratch/said"
        exit 1
    fi
}
