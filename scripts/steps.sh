# Sourced by ./test: what each step does, and the count of what passed and failed.
# Needs $root, the present folder, and scripts/prepare.sh.

results=$root/build/results
rm -rf "$results"
mkdir -p "$results"
passed=0
failed=0

# step TITLE COMMAND...: a step that fails without a failed case to show for it counts as one failure.
step() {
    local title=$1 began=$SECONDS failed_before=$failed
    shift
    say "== $title"
    if "$@" >&2; then
        say "== $title: done in $((SECONDS - began)) s"
    else
        [ "$failed" -gt "$failed_before" ] || failed=$((failed + 1))
        say "== $title: FAILED after $((SECONDS - began)) s"
    fi
}

# report: the last word, and the exit status.
report() {
    echo "$passed passed, $failed failed"
    [ "$failed" = 0 ] && [ "$passed" -gt 0 ]
}

cases() { xmllint --xpath "count(//testcase$2)" "$1" 2>/dev/null || echo 1; }

# count FOLDER [again]: adds up JUnit files. A case that was skipped or never run is a failure: nobody saw it pass.
# `again` counts failures only, for cases that have been counted in another build.
count() {
    local file all bad some=
    for file in "$1"/*.xml; do
        [ -f "$file" ] || continue
        some=yes
        all=$(cases "$file" "")
        bad=$(cases "$file" "[failure or error or skipped or @status='notrun']")
        failed=$((failed + bad))
        [ "${2-}" = again ] || passed=$((passed + all - bad))
    done
    [ -n "$some" ]
}

build_release() {
    configure release -DDAPPLE_TESTS=ON && ninja_quietly build/release
}

our_sources() { find src tests bench -name '*.cpp' -o -name '*.h' | sort; }

check_format() { our_sources | xargs clang-format --dry-run --Werror; }

check_tidy() { scripts/lint.sh build/release; }

# run_tests BUILD [again] [CTEST OPTION...]
run_tests() {
    local build=$1 again=${2-} folder=$results/$1 status=0
    shift $(($# < 2 ? $# : 2))
    mkdir -p "$folder"
    GTEST_OUTPUT="xml:$folder/" ctest --test-dir "build/$build" --output-on-failure --no-tests=error "$@" || status=1
    count "$folder" "$again" && return $status
}

run_tests_sanitized() {
    # The comparison with other programs walks no path of its own and takes a quarter of an hour here.
    local left_out='*Peers*' whole='none' programs
    # These run the program from end to end, over code that the other suites ask by its parts.
    [ -n "$thorough" ] || left_out+=':*Demo*:TheProgram*' whole='cli|paper'
    programs=$(find tests -mindepth 2 -maxdepth 2 -name '*.cpp' ! -path 'tests/fuzz/*' -printf '%h\n' | sort -u |
        sed 's|.*/|test_|' | grep -vE "^test_($whole)\$")
    configure sanitize -DDAPPLE_TESTS=ON && ninja_quietly build/sanitize $programs &&
        LSAN_OPTIONS=suppressions=$root/tests/leaks.supp:print_suppressions=0 GTEST_FILTER="-$left_out" \
            run_tests sanitize again --parallel 2 --exclude-regex "^($whole)\$"
}

# Lint, unit tests, and the user's journey in a browser against the program just built.
check_web() {
    local folder=$results/web status=0
    mkdir -p "$folder"
    export PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 PLAYWRIGHT_JUNIT_OUTPUT_NAME=$folder/e2e.xml
    export DAPPLE=$root/build/release/dapple
    (
        cd web || exit 1
        [ node_modules/.package-lock.json -nt package-lock.json ] || npm ci --no-audit --no-fund || exit 1
        status=0
        npm run lint || status=1
        npm test -- --reporter=default --reporter=junit --outputFile.junit="$folder/unit.xml" || status=1
        npm run e2e -- --reporter=list,junit || status=1
        exit $status
    ) </dev/null || status=1
    count "$folder" && return $status
}

# Every `./run COMMAND` in a fenced block of the first page and the guide must do what the page says it does: succeed.
# (The demo serves until it is stopped, so it is left to the web application's own tests.)
run_readme() {
    local line status=0
    while read -r line; do
        say "$line"
        if (eval "${line/#.\/run/build/release/dapple}") </dev/null >/dev/null; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            status=1
        fi
    done < <(awk '/^```/ {inside = !inside} inside && /^\.\/run [a-z]/ && !/^\.\/run (demo|serve)/' README.md docs/guide.md)
    return $status
}
