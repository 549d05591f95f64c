#include "Takes/TakeWatch.h"

#include "Guide/HostTime.h"
#include "Tempo/SampleTime.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

// Exact in a double, and far enough from the type's end to add a block to.
constexpr std::int64_t latestSample = std::int64_t{1} << 53;

constexpr std::array<std::pair<TakeWay, const char*>, 5> wayNames{{{TakeWay::recordingPass, "recording-pass"},
                                                                   {TakeWay::loopPass, "loop-pass"},
                                                                   {TakeWay::playing, "playing"},
                                                                   {TakeWay::marker, "marker"},
                                                                   {TakeWay::hand, "hand"}}};

bool samePlace(double a, double b) {
    return std::abs(a - b) <= positionSlackQuarters;
}

/// Nearest sample from the block's first, not before it.
std::int64_t offsetIn(const BlockTime& time, double ppq) {
    return std::max<std::int64_t>(0, time.offsetOf(ppq));
}

} // namespace

const char* name(TakeWay way) {
    for (const auto& [value, text] : wayNames)
        if (value == way)
            return text;
    return "recording-pass";
}

std::optional<TakeWay> parseTakeWay(const std::string& text) {
    for (const auto& [value, known] : wayNames)
        if (text == known)
            return value;
    return std::nullopt;
}

const char* name(TakeEnd end) {
    switch (end) {
    case TakeEnd::whole:
        return "whole";
    case TakeEnd::late:
        return "late";
    case TakeEnd::stopped:
        return "stopped";
    case TakeEnd::jumped:
        return "jumped";
    case TakeEnd::marked:
        return "marked";
    case TakeEnd::bypassed:
        return "bypassed";
    }
    return "stopped";
}

TakeWatch::TakeWatch(TakeWay way) : currentWay(way) {}

void TakeWatch::setWay(TakeWay way) {
    if (way == currentWay)
        return;
    currentWay = way;
    wayChanged = true;
    asked = false;
    requestWaiting = false;
}

std::vector<TakeEdge> TakeWatch::watch(const WatchedBlock& given) {
    WatchedBlock block = given;
    block.startSample = std::clamp<std::int64_t>(block.startSample, 0, latestSample);
    std::vector<TakeEdge> edges;
    if (onRequest()) {
        const int requests = currentWay == TakeWay::marker ? block.marks : block.handPresses;
        requestWaiting = requestWaiting != (requests > 0 && requests % 2 == 1);
    }
    heardWaiting = heardWaiting || block.heard;
    if (block.samples <= 0)
        return edges;
    endAtBlockStart(block, edges);
    takeRequest(block, edges);
    if (begun)
        begun->heard = begun->heard || heardWaiting;
    if (const auto time = blockTime(block)) {
        walkWindows(block, *time, edges);
        lastPpq = time->ppq + time->quarters();
    }
    heardWaiting = false;
    lastSample = std::max(lastSample, block.startSample + block.samples);
    return edges;
}

std::optional<TakeEdge> TakeWatch::close() {
    if (!begun)
        return std::nullopt;
    std::vector<TakeEdge> edges;
    end(TakeEnd::stopped, lastSample, lastPpq, edges);
    return edges.front();
}

void TakeWatch::endAtBlockStart(const WatchedBlock& block, std::vector<TakeEdge>& edges) {
    const std::optional<TakeEnd> reason = begun ? reasonToEnd(block) : std::nullopt;
    wayChanged = false;
    if (!reason)
        return;
    // A loop or recording that ends with the last note has let all of it through.
    const bool passed = samePlace(lastPpq, begun->window.end);
    end(passed ? passedEnd() : *reason, block.startSample, lastPpq, edges);
}

std::optional<TakeEnd> TakeWatch::reasonToEnd(const WatchedBlock& block) const {
    if (block.bypassed)
        return TakeEnd::bypassed;
    if (wayChanged || !wants(block))
        return TakeEnd::stopped;
    if (block.jumped)
        return TakeEnd::jumped;
    const Window& window = begun->window;
    // Another drill was put in, or the lap was left before its last note without a word from the host.
    const bool sameWindow =
        samePlace(block.takeStartPpq, window.start) && samePlace(block.takeEndPpq, window.end);
    if (block.lap == window.lap
            ? !sameWindow
            : block.lap < window.lap || window.end > block.ppq.value_or(lastPpq) + positionSlackQuarters)
        return TakeEnd::jumped;
    return std::nullopt;
}

void TakeWatch::takeRequest(const WatchedBlock& block, std::vector<TakeEdge>& edges) {
    if (!std::exchange(requestWaiting, false))
        return;
    if (begun)
        end(TakeEnd::marked, block.startSample, block.ppq.value_or(lastPpq), edges);
    else
        asked = !asked;
}

void TakeWatch::walkWindows(const WatchedBlock& block, const BlockTime& time, std::vector<TakeEdge>& edges) {
    std::int64_t reached = 0;
    if (begun) {
        reached = offsetIn(time, begun->window.end);
        if (reached >= block.samples)
            return;
        end(passedEnd(), block.startSample + reached, begun->window.end, edges);
    }
    Window window{block.lap, block.takeStartPpq, block.takeEndPpq};
    // Only the block's own lap may be over when the block starts; every later turn passes a sample or more.
    for (bool first = true; wants(block) && usablePpq(window.start) && usablePpq(window.end); first = false) {
        const std::int64_t from = std::max(reached, offsetIn(time, window.start));
        const std::int64_t to = offsetIn(time, window.end);
        if (from >= block.samples || (!first && to <= from))
            return;
        if (to > from) {
            begin(window, block.startSample + from, std::max(window.start, time.ppq), edges);
            if (to >= block.samples)
                return;
            end(passedEnd(), block.startSample + to, window.end, edges);
            reached = to;
        }
        if (!(block.lapQuarters > 0.0))
            return;
        window = {window.lap + 1, window.start + block.lapQuarters, window.end + block.lapQuarters};
    }
}

bool TakeWatch::onRequest() const {
    return currentWay == TakeWay::marker || currentWay == TakeWay::hand;
}

bool TakeWatch::wants(const WatchedBlock& block) const {
    if (!blockTime(block))
        return false;
    switch (currentWay) {
    case TakeWay::recordingPass:
        return block.recording;
    case TakeWay::loopPass:
        return block.looping;
    case TakeWay::playing:
        return true;
    case TakeWay::marker:
    case TakeWay::hand:
        return asked;
    }
    return false;
}

void TakeWatch::begin(const Window& window, std::int64_t sample, double ppq, std::vector<TakeEdge>& edges) {
    lastEdge = std::max(lastEdge, sample);
    begun = Begun{window, ppq, heardWaiting};
    edges.push_back({TakeEdge::Kind::begin, lastEdge, ppq, window.lap, TakeEnd::whole, false});
}

void TakeWatch::end(TakeEnd reason, std::int64_t sample, double ppq, std::vector<TakeEdge>& edges) {
    lastEdge = std::max(lastEdge, sample);
    edges.push_back({TakeEdge::Kind::end, lastEdge, ppq, begun->window.lap, reason, begun->heard});
    begun.reset();
    asked = false;
}

TakeEnd TakeWatch::passedEnd() const {
    return begun->ppq <= begun->window.start + positionSlackQuarters ? TakeEnd::whole : TakeEnd::late;
}

} // namespace valveladder
