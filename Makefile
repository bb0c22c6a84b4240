# Builds, tests and installs Garboard. `make help` says what there is to make.
#
# Yours to set: CC CFLAGS CPPFLAGS LDFLAGS LDLIBS (what the code itself needs is added to them), BUILD (the folder that
# everything is built in), SAN=1 (address and undefined-behaviour sanitizers), WERROR=1 (warnings stop the build),
# STATIC=0 (link the C library as usual), V=1 (print whole commands), PREFIX and DESTDIR (where to install),
# NO_INSTALL=1 (never install packages).

SAN ?=
WERROR ?=
BUILD := $(if $(filter 1,$(SAN)),build-san,build)
CFLAGS ?= $(if $(filter 1,$(SAN)),-O1 -g,-O3 -g)
PREFIX ?= /usr/local
RE2C ?= re2c
PYTHON ?= /usr/bin/python3
BENCH_FULL ?=
DEMO ?= specs/heron/heron.boat
# The day that the demo boat is written for.
DEMO_FLAGS ?= --as-of 2027-03-01

all: $(BUILD)/garboard $(BUILD)/libgarboard.a

# ---- flags ----------------------------------------------------------------------------------------------------------

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes
ifeq ($(WERROR),1)
WARNINGS += -Werror
endif
ifeq ($(SAN),1)
SANITIZERS := -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
endif

# A statically linked program starts in 60 % of the time. Where there is no libc.a, and for sanitizers, as usual.
ifndef STATIC
STATIC := $(if $(SANITIZERS),0,$(if $(filter /%,$(shell $(CC) -print-file-name=libc.a)),1,0))
endif

NEEDED_CFLAGS := -std=c11 -ffp-contract=off $(WARNINGS) $(SANITIZERS)
NEEDED_CPPFLAGS := -D_POSIX_C_SOURCE=200809L -Icompiler -Iinclude
COMPILE = $(CC) $(NEEDED_CPPFLAGS) $(NEEDED_CFLAGS) -MMD -MP $(CPPFLAGS) $(CFLAGS)
LINK = $(CC) $(NEEDED_CFLAGS) $(CFLAGS) $(LDFLAGS)

# A line for each step, or the whole command.
Q := $(if $(filter 1,$(V)),,@)
SAY = @$(if $(filter 1,$(V)),:,echo '  $(1)')
# As many jobs as processors, unless the caller said how many.
SUBMAKE = $(MAKE) --no-print-directory $(if $(filter -j% --jobserver%,$(MAKEFLAGS)),,-j$(shell nproc 2>/dev/null || echo 2))

# ---- the library and the program ------------------------------------------------------------------------------------

PROGRAM_SOURCES := $(wildcard compiler/main.c compiler/command*.c)
LIBRARY_SOURCES := $(filter-out $(PROGRAM_SOURCES),$(sort $(wildcard compiler/*.c compiler/*/*.c)))
LEXERS := $(patsubst grammar/%.re,$(BUILD)/%.c,$(wildcard grammar/*.re))
PROGRAM_OBJECTS := $(PROGRAM_SOURCES:%.c=$(BUILD)/%.o)
LIBRARY_OBJECTS := $(LIBRARY_SOURCES:%.c=$(BUILD)/%.o) $(LEXERS:.c=.o)

$(BUILD)/garboard: $(PROGRAM_OBJECTS) $(BUILD)/libgarboard.a
	$(call SAY,link $@)
	$(Q)$(LINK) $(if $(filter 1,$(STATIC)),-static) $^ -lm $(LDLIBS) -o $@

$(BUILD)/libgarboard.a: $(LIBRARY_OBJECTS) $(BUILD)/sources.stamp
	$(call SAY,pack $@)
	@rm -f $@
	$(Q)$(AR) rcs $@ $(LIBRARY_OBJECTS)

$(LEXERS): $(BUILD)/%.c: grammar/%.re
	@mkdir -p $(@D)
	@command -v $(RE2C) >/dev/null || { echo "re2c is missing: \`sh tests/install-packages.sh build\`" >&2; exit 2; }
	$(call SAY,lex  $<)
	$(Q)$(RE2C) -W -Werror -b -i --no-generation-date $< -o $@

$(LEXERS:.c=.o): %.o: %.c $(BUILD)/flags.stamp
	$(call SAY,cc   $<)
	$(Q)$(COMPILE) -c $< -o $@

$(BUILD)/%.o: %.c $(BUILD)/flags.stamp
	@mkdir -p $(@D)
	$(call SAY,cc   $<)
	$(Q)$(COMPILE) $(EXTRA_CPPFLAGS) -c $< -o $@

# Stamps: rewritten only when what they hold changes, so that other flags or a source that has gone rebuild what they must.
$(BUILD)/flags.stamp: export STAMP = $(shell $(CC) --version | head -n 1) $(COMPILE) $(LINK) $(STATIC)
$(BUILD)/sources.stamp: export STAMP = $(LIBRARY_SOURCES)
$(BUILD)/flags.stamp $(BUILD)/sources.stamp: FORCE
	@mkdir -p $(@D)
	@printf '%s\n' "$$STAMP" | cmp -s - $@ || printf '%s\n' "$$STAMP" >$@

# ---- tests ----------------------------------------------------------------------------------------------------------
# Every tests/unit/test_*.c, tests/reference/test_*.c and tests/run/*.c is a program, linked with the library, cmocka and
# the helpers in tests/*.c; every tests/run/*.sh is a program as it stands.

TEST_SOURCES := $(sort $(wildcard tests/unit/test_*.c tests/reference/test_*.c tests/run/*.c))
TEST_HELPERS := $(patsubst %.c,$(BUILD)/%.o,$(sort $(wildcard tests/*.c)))
TEST_PROGRAMS := $(TEST_SOURCES:%.c=$(BUILD)/%)
TEST_SCRIPTS := $(sort $(wildcard tests/run/*.sh))
RUN_PROGRAMS := $(filter $(BUILD)/tests/run/%,$(TEST_PROGRAMS)) $(TEST_SCRIPTS)

$(TEST_PROGRAMS:=.o) $(TEST_HELPERS): EXTRA_CPPFLAGS = -Itests -DTESTS_DIR='"$(CURDIR)/tests"' \
    -DGARBOARD='"$(abspath $(BUILD))/garboard"'

$(TEST_PROGRAMS): %: %.o $(TEST_HELPERS) $(BUILD)/libgarboard.a
	$(call SAY,link $@)
	$(Q)$(LINK) $^ -lcmocka -lm $(LDLIBS) -o $@

RUN_TESTS = GARBOARD='$(abspath $(BUILD))/garboard' TESTS_DIR='$(CURDIR)/tests' PYTHON='$(PYTHON)' CC='$(CC)' \
    VERBOSE='$(VERBOSE)' sh tests/run-tests.sh $(BUILD)/tests/results

test:
	@sh tests/install-packages.sh test
	+@$(SUBMAKE) tests-build
	@$(RUN_TESTS) $(TEST_PROGRAMS) $(TEST_SCRIPTS)

# With what measures parts of the program: it must go on compiling.
tests-build: all $(TEST_PROGRAMS) $(BUILD)/tests/bench/network $(BUILD)/tests/bench/year

# ONLY="docs golden": these scripts of tests/run alone.
ACCEPTED := $(if $(ONLY),$(ONLY:%=tests/run/%.sh),$(RUN_PROGRAMS))

accept:
	@sh tests/install-packages.sh test
	+@$(SUBMAKE) $(if $(ONLY),all,tests-build)
	@status=0; ACCEPT=1 $(RUN_TESTS) $(ACCEPTED) || status=$$?; \
	git --no-pager diff -- tests docs; \
	git --no-pager diff --stat -- tests docs; \
	git status --short --untracked-files=all -- tests | sed -n 's/^??/new:/p'; \
	exit $$status

coverage:
	@find build-coverage -name '*.gcda' -delete 2>/dev/null || true
	+@$(SUBMAKE) test BUILD=build-coverage CFLAGS='-O0 -g --coverage -fprofile-update=atomic' SAN=
	@find build-coverage -name '*.gcda' ! -path '*/tests/*' -exec gcov -n {} + 2>/dev/null | awk ' \
	    /^File/ { name = substr($$2, 2, length($$2) - 2) } \
	    /^Lines executed/ { split($$0, part, /[:%]/); printf "%6.1f %%  %s\n", part[2], name == "" ? "in all" : name; \
	        name = "" }' | sort -n

# ---- the demo -------------------------------------------------------------------------------------------------------
# The boat has faults, as boats do: exit status 1 is what `check` and `book` say then. Worse than that stops the demo.

demo:
	@sh tests/install-packages.sh build
	+@$(SUBMAKE) all
	@echo; echo '$$ $(BUILD)/garboard check $(DEMO) $(DEMO_FLAGS)'
	@status=0; $(BUILD)/garboard check $(DEMO) $(DEMO_FLAGS) || status=$$?; \
	    echo "(exit status $$status: 0 is nothing broken, 1 is at least one fault or mistake)"; test $$status -le 1
	@echo; echo '$$ $(BUILD)/garboard book $(DEMO) -o $(BUILD)/demo-book $(DEMO_FLAGS)'
	@status=0; $(BUILD)/garboard book $(DEMO) -o $(BUILD)/demo-book $(DEMO_FLAGS) || status=$$?; test $$status -le 1
	@echo; echo 'Where to look:'
	@echo '  $(BUILD)/demo-book/book.md   the build book; its pictures and tables lie beside it'
	@echo '  $(DEMO)   the spec that it was made from'
	@echo '  specs/plover.boat, specs/coot.boat   a sailing boat of 8 m and a small open launch: check them in the same way'

# ---- measuring ------------------------------------------------------------------------------------------------------

BENCH_PROGRAMS := $(patsubst tests/bench/%.c,$(BUILD)/tests/bench/%,$(wildcard tests/bench/*.c))

# What measures a part of the program is linked with it; the others know nothing of Garboard.
$(BUILD)/tests/bench/network $(BUILD)/tests/bench/year: $(BUILD)/libgarboard.a
$(BENCH_PROGRAMS): %: %.o
	$(call SAY,link $@)
	$(Q)$(LINK) $(filter %.o %.a,$^) $(if $(filter %/yaml_load,$@),-lyaml) -lm -o $@

bench-build: all $(BENCH_PROGRAMS)

bench:
	@sh tests/install-packages.sh build bench
	+@$(SUBMAKE) bench-build
	@BENCH_FULL='$(BENCH_FULL)' sh tests/bench/bench.sh $(BUILD) $(DEMO) $(DEMO_FLAGS)

# ---- the rest -------------------------------------------------------------------------------------------------------

HAND_WRITTEN := $(sort $(wildcard compiler/*.[ch] compiler/*/*.[ch] include/*.h tests/*.[ch] tests/*/*.[ch]))

lint:
	@NO_INSTALL=1 sh tests/install-packages.sh lint || echo 'lint: going on with what there is'
	@status=0; \
	if command -v clang-format >/dev/null; then for file in $(HAND_WRITTEN); do \
	    clang-format "$$file" | cmp -s - "$$file" || echo "layout (advice): clang-format would change $$file"; done; fi; \
	if command -v cppcheck >/dev/null; then \
	    cppcheck --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --error-exitcode=1 \
	        --suppress=missingIncludeSystem $(NEEDED_CPPFLAGS) compiler || status=1; fi; \
	if command -v mandoc >/dev/null; then mandoc -T lint docs/garboard.1 || status=1; fi; \
	exit $$status

install: all
	install -d '$(DESTDIR)$(PREFIX)/bin' '$(DESTDIR)$(PREFIX)/lib' '$(DESTDIR)$(PREFIX)/include' \
	    '$(DESTDIR)$(PREFIX)/share/man/man1'
	install -m 755 $(BUILD)/garboard '$(DESTDIR)$(PREFIX)/bin/garboard'
	install -m 644 $(BUILD)/libgarboard.a '$(DESTDIR)$(PREFIX)/lib/libgarboard.a'
	install -m 644 include/garboard.h '$(DESTDIR)$(PREFIX)/include/garboard.h'
	install -m 644 docs/garboard.1 '$(DESTDIR)$(PREFIX)/share/man/man1/garboard.1'

uninstall:
	rm -f '$(DESTDIR)$(PREFIX)/bin/garboard' '$(DESTDIR)$(PREFIX)/lib/libgarboard.a' \
	    '$(DESTDIR)$(PREFIX)/include/garboard.h' '$(DESTDIR)$(PREFIX)/share/man/man1/garboard.1'

clean:
	rm -rf build build-*

help:
	@echo 'make             the program and the library: $(BUILD)/garboard, $(BUILD)/libgarboard.a'
	@echo 'make demo        brings what is missing, checks the demo boat and writes its build book'
	@echo 'make test        brings what is missing and runs all tests (SAN=1: under sanitizers, VERBOSE=1: all output)'
	@echo 'make accept      rewrites the expected outputs of the tests and prints what changed, to be read (ONLY=docs: these)'
	@echo 'make bench       measures speed, growth, start-up and memory (BENCH_FULL=1: growth to a million lines)'
	@echo 'make lint        static analysis and manual page; tells which files are laid out otherwise than .clang-format says'
	@echo 'make coverage    which share of each source file the tests run'
	@echo 'make install     to PREFIX ($(PREFIX)), under DESTDIR if that is set; make uninstall takes it away'
	@echo 'make clean       removes everything that was built'

FORCE:

.PHONY: all test tests-build accept coverage demo bench bench-build lint install uninstall clean help FORCE
.DELETE_ON_ERROR:
.SUFFIXES:

-include $(LIBRARY_OBJECTS:.o=.d) $(PROGRAM_OBJECTS:.o=.d) $(TEST_HELPERS:.o=.d) $(TEST_PROGRAMS:=.d) $(BENCH_PROGRAMS:=.d)
