# pitwright - build, demo, tests.  `make help` lists the targets.
#
#   make demo      installs what is missing, builds, plans the demo event, lists the files it wrote
#   make check     installs what the tests need, builds, runs every test
#
# VARIANT=release|debug|san|cov picks a build; each lives in build/<variant>/.

VARIANT ?= release
Q       ?= @
CC      ?= cc
PREFIX  ?= /usr/local
DESTDIR ?=
PKG_CONFIG ?= pkg-config
# read by the recipes of the check target
TESTFLAGS ?=

VERSION := 0.1.0
B := build/$(VARIANT)

WARN := -Wall -Wextra -Wpedantic -Werror -Wshadow -Wconversion -Wno-sign-conversion -Wstrict-prototypes -Wmissing-prototypes \
        -Wvla -Wundef -Wformat=2 -Wpointer-arith -Wcast-qual -Wwrite-strings -Wnull-dereference
# clang warns of NAN and INFINITY, which the headers give as float constants, and of designated initializers cut short
ifeq ($(findstring clang,$(shell $(CC) --version 2>/dev/null)),)
  WARN += -Wdouble-promotion
else
  WARN += -Wno-missing-field-initializers
endif
BASE := -std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -Iinclude -Isrc -DPW_VERSION='"$(VERSION)"' -ffp-contract=off
# hardened: checked by tests/parts/install.sh with readelf
OPT_release := -O3 -g -D_FORTIFY_SOURCE=2 -fstack-protector-strong -fstack-clash-protection -fcf-protection -fPIE
OPT_debug   := -O0 -g -DPW_ARENA_DEBUG
OPT_san     := -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all -DPW_ARENA_DEBUG
OPT_cov     := -O0 -g --coverage -DPW_ARENA_DEBUG -DPW_COVERAGE
ifeq ($(OPT_$(VARIANT)),)
  $(error VARIANT=$(VARIANT) is not one of release debug san cov)
endif

# The libraries' flags are asked for when a recipe runs, so that `make demo` can install them first.
LIBS_PC   := yaml-0.1 jansson xlsxwriter
PC_CFLAGS  = $(shell $(PKG_CONFIG) --cflags $(LIBS_PC) 2>/dev/null)
PC_LIBS    = $(shell $(PKG_CONFIG) --libs $(LIBS_PC) 2>/dev/null)
CHECK_LIBS = $(shell $(PKG_CONFIG) --libs check gsl libical 2>/dev/null)

CFLAGS  ?=
CFLAGS_ALL = $(BASE) $(WARN) $(OPT_$(VARIANT)) $(PC_CFLAGS) $(CFLAGS)
LDLIBS_ALL = -lglpk $(PC_LIBS) -lz -lpthread -lm
LDFLAGS_ALL = $(if $(filter san,$(VARIANT)),-fsanitize=address$(comma)undefined) $(if $(filter cov,$(VARIANT)),--coverage) \
  $(if $(filter release,$(VARIANT)),-pie -Wl$(comma)-z$(comma)relro$(comma)-z$(comma)now$(comma)-z$(comma)noexecstack) $(LDFLAGS)
comma := ,

SRC  := $(sort $(shell find src -name '*.c'))
LIBSRC := $(filter-out src/cli/%,$(SRC))
CLISRC := $(filter src/cli/%,$(SRC))
LIBOBJ := $(LIBSRC:%.c=$(B)/%.o)
CLIOBJ := $(CLISRC:%.c=$(B)/%.o)
UNIT   := $(sort $(shell find tests/unit -name 'test_*.c'))
UNITBIN := $(foreach t,$(UNIT),$(B)/tests/$(basename $(notdir $t)))
vpath test_%.c $(sort $(dir $(UNIT)))

LIB := $(B)/libpitwright.a
BIN := $(B)/pitwright

.PHONY: all build demo check unit cases gates san memcheck tidy deps deps-test install uninstall clean help bench cov
.DEFAULT_GOAL := all
.DELETE_ON_ERROR:

all: build ## build the program and the library

build: $(BIN)

$(BIN): $(CLIOBJ) $(LIB)
	$(Q)echo "  LINK $@"
	$(Q)$(CC) $(LDFLAGS_ALL) -o $@ $(CLIOBJ) $(LIB) $(LDLIBS_ALL)

$(LIB): $(LIBOBJ)
	$(Q)rm -f $@ && ar rcs $@ $(LIBOBJ)

$(B)/%.o: %.c
	$(Q)mkdir -p $(@D)
	$(Q)echo "  CC   $<"
	$(Q)$(CC) $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

$(B)/tests/test_allocate $(B)/tests/test_allocate_guide $(B)/tests/test_allocate_state: $(B)/tests/bench/instances.o
$(B)/tests/test_allocate $(B)/tests/test_allocate_guide $(B)/tests/test_allocate_state: LDLIBS_TEST := $(B)/tests/bench/instances.o

$(B)/tests/test_%: test_%.c $(LIB)
	$(Q)mkdir -p $(@D)
	$(Q)echo "  TEST $<"
	$(Q)$(CC) $(CFLAGS_ALL) -Itests/unit -MMD -MP $(LDFLAGS_ALL) -o $@ $< $(LDLIBS_TEST) $(LIB) $(CHECK_LIBS) $(LDLIBS_ALL)

-include $(shell find $(B) -name '*.d' 2>/dev/null)

deps: ## install what the build needs, if it is missing
	$(Q)sh .ci/deps build

deps-test: ## install what the tests need, if it is missing
	$(Q)sh .ci/deps test

demo: deps ## build and plan the demo event
	$(Q)$(MAKE) --no-print-directory build
	$(Q)sh tests/demo.sh $(BIN)

check: deps-test ## build and run every test
	$(Q)$(MAKE) --no-print-directory build unit-build $(B)/edits $(B)/soak
	$(Q)sh tests/run.sh $(B) $(TESTFLAGS)

unit-build: $(UNITBIN)
.PHONY: unit-build

unit: build unit-build ## unit tests only
	$(Q)sh tests/run.sh $(B) unit

cases: build ## whole-run cases only
	$(Q)sh tests/run.sh $(B) cases

gates: build ## layering and header gates only
	$(Q)sh tests/run.sh $(B) gates

san: ## everything under the address and undefined-behaviour sanitizers
	$(Q)$(MAKE) --no-print-directory VARIANT=san build unit-build
	$(Q)CK_FORK=no sh tests/run.sh build/san unit cases

memcheck: build unit-build ## unit tests and the events under valgrind
	$(Q)sh tests/memcheck.sh $(B)

tidy: ## clang-tidy and cppcheck
	$(Q)bad=0; for f in $(SRC); do clang-tidy --quiet --warnings-as-errors='*' $$f -- $(BASE) $(PC_CFLAGS) 2>/dev/null || bad=1; done; exit $$bad
	$(Q)cppcheck --quiet --std=c11 --enable=warning,performance,portability --error-exitcode=1 --inline-suppr \
	  --suppress=missingIncludeSystem -Iinclude -Isrc src

bench: build ## instances by seed: cost, bound, gap, seconds, memory; the same models given to cbc
	$(Q)$(CC) $(CFLAGS_ALL) -Itests/bench -o $(B)/bench tests/bench/bench.c tests/bench/lay.c tests/bench/instances.c $(LIB) $(LDLIBS_ALL)
	$(Q)$(CC) $(CFLAGS_ALL) -o $(B)/bench-packs tests/bench/packs.c $(LIB) $(LDLIBS_ALL)
	$(Q)$(CC) $(CFLAGS_ALL) -o $(B)/bench-rects tests/bench/rects.c $(LIB) $(LDLIBS_ALL)
	$(Q)sh tests/bench.sh $(B)

# Whole runs with one thing failing.  main() is called by the driver, which defines the allocators and the file calls itself.
FAULTS := $(B)/faults/faults
$(FAULTS): tests/faults/faults.c tests/faults/inject.c tests/faults/inject.h $(LIB) $(CLIOBJ)
	$(Q)mkdir -p $(@D)
	$(Q)$(CC) $(CFLAGS_ALL) -Dmain=pw_main -c -o $(@D)/main.o src/cli/main.c -Wno-missing-prototypes
	$(Q)$(CC) $(CFLAGS_ALL) -Wno-shadow -Wno-missing-prototypes -fno-builtin -Itests/faults $(LDFLAGS_ALL) -rdynamic -o $@ \
	  tests/faults/faults.c tests/faults/inject.c $(@D)/main.o $(filter-out %/main.o,$(CLIOBJ)) $(LIB) $(LDLIBS_ALL) -ldl

faults: ## every allocation and every call on files failing in turn, kills at every step
	$(Q)$(MAKE) --no-print-directory VARIANT=debug build $(FAULTS:$(B)/%=build/debug/%)
	$(Q)sh tests/parts/faults.sh build/debug whole
.PHONY: faults

# Fuzzing: clang's libFuzzer with the sanitizers; `make fuzz SECONDS=60 TARGETS="event plan"`; the log's bar: `make fuzz TARGETS=log
# RUNS=5000000 SECONDS=20000`, which ends at so many inputs.  The kept finds are replayed by
# tests/parts/fuzz.sh with the usual compiler.
FUZZ := build/fuzz
SECONDS ?= 60
TARGETS ?= quantity event job catalog plan whole log
RUNS ?= -1
$(FUZZ)/fuzz: tests/fuzz/fuzz.c $(LIBSRC) $(shell find src include -name "*.h")
	$(Q)mkdir -p $(@D)
	$(Q)clang -O1 -g $(BASE) $(PC_CFLAGS) -DPW_ARENA_DEBUG -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all \
	  -o $@ tests/fuzz/fuzz.c $(LIBSRC) $(LDLIBS_ALL)
# Many times quicker (comparisons are not traced either), for numbers; what it keeps is then run under the sanitizers.
$(FUZZ)/fast: tests/fuzz/fuzz.c $(LIBSRC) $(shell find src include -name "*.h")
	$(Q)mkdir -p $(@D)
	$(Q)clang -O2 -g $(BASE) $(PC_CFLAGS) -fsanitize=fuzzer -fno-sanitize-coverage=trace-cmp -o $@ tests/fuzz/fuzz.c $(LIBSRC) $(LDLIBS_ALL)

$(B)/fuzz/replay: tests/fuzz/fuzz.c $(LIB)
	$(Q)mkdir -p $(@D)
	$(Q)$(CC) $(CFLAGS_ALL) -DFUZZ_REPLAY $(LDFLAGS_ALL) -o $@ $< $(LIB) $(LDLIBS_ALL)

fuzz: $(FUZZ)/fuzz $(FUZZ)/fast $(BIN) ## libFuzzer over the readers and the whole run, SECONDS for each of TARGETS
	$(Q)RUNS=$(RUNS) sh tests/fuzz/fuzz.sh $(FUZZ) $(BIN) $(SECONDS) $(TARGETS)
.PHONY: fuzz

cov: ## lines and branches of src that the tests run
	$(Q)$(MAKE) --no-print-directory VARIANT=cov build unit-build build/cov/faults/faults build/cov/fuzz/replay
	$(Q)sh tests/cov.sh build/cov

$(B)/soak $(B)/edits $(B)/days: $(B)/%: tests/soak/%.c $(LIB)
	$(Q)$(CC) $(CFLAGS_ALL) $(LDFLAGS_ALL) -o $@ $< $(LIB) $(LDLIBS_ALL)

soak: $(B)/soak $(B)/edits $(B)/days $(BIN) ## 2000 random events from end to end, some under the sanitizers; every number of three plans changed
	$(Q)for e in family-party lakeside-wedding county-fair; do $(BIN) plan events/$$e.yaml --json $(B)/edits-$$e.json || exit 1; done
	$(Q)$(B)/edits -v $(B)/edits-family-party.json $(B)/edits-lakeside-wedding.json $(B)/edits-county-fair.json
	$(Q)PW_GIANT=1 sh tests/parts/odd.sh $(B)
	$(Q)$(B)/soak 2000 1 40
	$(Q)$(B)/soak 2000 1 meals
	$(Q)$(B)/soak 500 1 chance
	$(Q)$(B)/days 100 1
	$(Q)rm -rf $(B)/sheets && $(B)/soak 500 3 0 $(B)/sheets
	$(Q)python3 tests/play_sheets.py $(B)/sheets/*
	$(Q)$(MAKE) --no-print-directory VARIANT=san build/san/soak
	$(Q)build/san/soak 60 2 20
.PHONY: soak

mutate: ## small wrongs put into the stages one at a time: how many do the tests see?
	$(Q)sh tests/mutate.sh build/mutate 300 1
.PHONY: mutate

install: build ## install under $(DESTDIR)$(PREFIX)
	$(Q)sh src/install/install.sh install $(B) "$(DESTDIR)" "$(PREFIX)"

uninstall: ## remove what install put there
	$(Q)sh src/install/install.sh uninstall $(B) "$(DESTDIR)" "$(PREFIX)"

deb: build ## a Debian package in build/release
	$(Q)sh src/install/deb.sh $(B)
.PHONY: deb

analyze: ## gcc with -fanalyzer and clang with wide warnings over the whole tree; nothing is linked
	$(Q)bad=0; for f in $(SRC); do \
	  gcc $(BASE) $(WARN) -O2 -fanalyzer $(PC_CFLAGS) -c -o /dev/null $$f || bad=1; \
	  clang $(BASE) -Wall -Wextra -Wpedantic -Werror -Wshadow -Wconversion -Wno-sign-conversion -Wimplicit-fallthrough \
	    -Wassign-enum -Wconditional-uninitialized -Wvla $(PC_CFLAGS) -fsyntax-only $$f || bad=1; done; exit $$bad
.PHONY: analyze

syntax: ## every source and unit test read by $(CC) with the build's warnings, nothing compiled; for another compiler than the usual
	$(Q)printf '%s\n' $(SRC) $(UNIT) | xargs -P 2 -n 12 $(CC) $(CFLAGS_ALL) -Itests/unit -fsyntax-only
.PHONY: syntax

clean: ## remove build/
	$(Q)rm -rf build

help: ## this list
	$(Q)grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*##/\t/' | expand -t 14
