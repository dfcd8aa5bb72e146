# emberbeat: `make help` lists what can be made. Debian packages and pinned
# tools are named here and nowhere else.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help

# What the tests compare with, on Debian: a package, or command=package where
# the command may have come from elsewhere. Go and make must be there already.
TEST_PACKAGES := git sox libsox-fmt-mp3 oggenc=vorbis-tools flac lame ffmpeg node=nodejs npm=npm \
	man=man-db fretsonfire-songs-sectoid gcc libc6-dev libltc-dev python3 python3-mido python3-openpyxl pdftotext=poppler-utils rsvg-convert=librsvg2-bin espeak-ng \
	fluidsynth fluid-soundfont-gm aubio-tools python3-aubio
# What the window needs: to build it, and a screen to test it on.
WINDOW_PACKAGES := gcc libc6-dev pkg-config libx11-dev libxrandr-dev libxcursor-dev libxinerama-dev libxi-dev \
	libxxf86vm-dev libasound2-dev libgl-dev libgl1-mesa-dri
SCREEN_PACKAGES := xvfb xauth xdotool x11-utils import=imagemagick
# What building needs besides Go and make; the window only where it can open.
RUN_PACKAGES := ca-certificates
ifneq ($(DISPLAY)$(WAYLAND_DISPLAY),)
RUN_PACKAGES += $(WINDOW_PACKAGES)
endif

STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2

# What a build is called: its commit, without a path of the machine it was
# built on.
VERSION := $(shell git describe --tags --always --dirty 2>/dev/null)
BUILD := go build -trimpath -buildvcs=false -ldflags '-X main.version=$(VERSION)'

BIN := bin/emberbeat
SHOW := out/example-show
DESK := ./cmd/emberbeat-desk

# Each target says what it does in the comment after ##.

.PHONY: help
help: ## list what can be made
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-10s %s\n", $$1, $$2 }' $(firstword $(MAKEFILE_LIST))

.PHONY: run
run: install-run $(BIN) ## build, and run the main job on the example show
	@.ci/example $(BIN) $(SHOW) out

.PHONY: test
test: install-test lint ## everything that must pass before a commit counts
	@echo '== builds without cgo'
	CGO_ENABLED=0 GOOS=linux GOARCH=amd64 $(BUILD) -o bin/linux/ ./cmd/emberbeat
	CGO_ENABLED=0 GOOS=windows GOARCH=amd64 $(BUILD) -o bin/windows/ ./cmd/emberbeat
	@echo '== tests of what runs at once, with the race detector'
	EMBERBEAT_REQUIRE_TOOLS=1 .ci/race
	@echo '== tests'
	EMBERBEAT_REQUIRE_TOOLS=1 xvfb-run -a go test -vet=off $$(go list ./... | grep -v emberbeat-desk)
	@echo '== tests of the real window, alone on the machine'
	EMBERBEAT_REQUIRE_TOOLS=1 xvfb-run -a go test -vet=off ./cmd/emberbeat-desk

.PHONY: stress
stress: install-test ## run ten times, on a busy machine, what could pass by luck (half an hour and more)
	@.ci/stress

.PHONY: bench
bench: ## how fast compiling, checking, loading, saving and listening are
	go test -run '^$$' -bench . -benchmem $$(go list ./... | grep -v '/render/desk$$\|emberbeat-desk')
	@if test -n '$(DISPLAY)$(WAYLAND_DISPLAY)'; then go test -run '^$$' -bench . -benchmem ./render/desk; fi

.PHONY: lint
lint: ## gofmt, go vet and staticcheck
	@echo '== gofmt'
	@test -z "$$(gofmt -l cmd timeline audio render shows | tee /dev/stderr)"
	@echo '== go vet'
	go vet ./...
	@echo '== staticcheck'
	go run $(STATICCHECK) ./...

.PHONY: songs
songs: ## render the example show's songs anew from their scores
	@.ci/install oggenc=vorbis-tools
	go run ./shows/example/score/render -ogg shows/example/show/audio

.PHONY: pictures
pictures: $(BIN) ## the pictures of README and documents, in testdata/pictures
	@.ci/install $(WINDOW_PACKAGES) $(SCREEN_PACKAGES)
	$(BUILD) -o bin/ $(DESK)
	@.ci/pictures testdata/pictures

.PHONY: eval-ear
eval-ear: install-test ## measure the ear beside aubio on songs with known beats (some ten minutes)
	@testdata/eval-ear.sh

.PHONY: eval-match
eval-match: ## measure how well match carries cues over to other recordings (an hour; the scripts in MATCH_DIR)
	@testdata/eval-match.sh

.PHONY: fit-ear
fit-ear: ## fit the weights of the ear anew on made songs (half an hour the first time) and those of eval-ear
	@.ci/install fluidsynth fluid-soundfont-gm timgm6mb-soundfont mma
	EARS_DATA=$(or $(EARS_DATA),$(CURDIR)/out/ears) FIT_DIR=$(CURDIR)/out/fit-ear EMBERBEAT_WRITE_WEIGHTS=1 \
		go test -tags fit -count=1 -timeout 3h -v -run '^TestFit$$' ./audio/ear
	EARS_DATA=$(or $(EARS_DATA),$(CURDIR)/out/ears) FIT_DIR=$(CURDIR)/out/fit-ear \
		go test -tags fit -count=1 -timeout 1h -v -run '^TestFigures$$' ./audio/ear

.PHONY: eval-playhead
eval-playhead: ## compare the window's playhead with its recorded sound (a minute and a half)
	@.ci/install $(WINDOW_PACKAGES) $(SCREEN_PACKAGES) pulseaudio pulseaudio-utils libasound2-plugins
	EMBERBEAT_EVAL_PLAYHEAD=1 EMBERBEAT_REQUIRE_TOOLS=1 xvfb-run -a go test -count=1 -v -run '^TestPlayheadAgainstRecording$$' $(DESK)

.PHONY: fuzz
FUZZTIME ?= 30s
fuzz: ## each fuzz target for FUZZTIME (30s), or those that FUZZ names, with how often each ran
	@.ci/fuzz $(FUZZTIME) $(FUZZ)

.PHONY: clean
clean: ## take away what was built and written
	rm -rf bin out dist

# Always asked: the go command knows best whether anything changed.
.PHONY: $(BIN)
$(BIN):
	@echo '== build'
	CGO_ENABLED=0 $(BUILD) -o $(BIN) ./cmd/emberbeat
	@if test -e $(DESK)/main.go && test -n '$(DISPLAY)$(WAYLAND_DISPLAY)'; then echo '== build the window'; $(BUILD) -o bin/ $(DESK); fi

.PHONY: install-run install-test
install-run:
	@.ci/install $(RUN_PACKAGES)
install-test:
	@.ci/install $(TEST_PACKAGES) $(WINDOW_PACKAGES) $(SCREEN_PACKAGES)
