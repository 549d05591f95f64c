#include "Plugin/Lv2Time.h"

#include <lv2/atom/util.h>
#include <lv2/time/time.h>

#include <cmath>
#include <limits>

namespace valveladder {

namespace {

template <typename Atom>
auto bodyOf(const LV2_Atom* atom) {
    return reinterpret_cast<const Atom*>(atom)->body;
}

} // namespace

Lv2Time::Lv2Time(const LV2_URID_Map& map) {
    const auto id = [&map](const char* uri) { return map.map(map.handle, uri); };
    sequence = id(LV2_ATOM__Sequence);
    object = id(LV2_ATOM__Object);
    blank = id(LV2_ATOM__Blank);
    intType = id(LV2_ATOM__Int);
    longType = id(LV2_ATOM__Long);
    floatType = id(LV2_ATOM__Float);
    doubleType = id(LV2_ATOM__Double);
    position = id(LV2_TIME__Position);
    frame = id(LV2_TIME__frame);
    speed = id(LV2_TIME__speed);
    bar = id(LV2_TIME__bar);
    barBeat = id(LV2_TIME__barBeat);
    beat = id(LV2_TIME__beat);
    beatUnit = id(LV2_TIME__beatUnit);
    beatsPerBar = id(LV2_TIME__beatsPerBar);
    beatsPerMinute = id(LV2_TIME__beatsPerMinute);
}

std::span<const TimeReport> Lv2Time::read(const LV2_Atom_Sequence* events) noexcept {
    reports.clear();
    if (events != nullptr && events->atom.type == sequence) {
        LV2_ATOM_SEQUENCE_FOREACH(events, event)
        readEvent(*event);
    }
    return reports.all();
}

/// Hosts differ in which number types they send.
std::optional<double> Lv2Time::number(const LV2_Atom* atom) const noexcept {
    if (atom == nullptr)
        return std::nullopt;
    if (atom->type == floatType)
        return bodyOf<LV2_Atom_Float>(atom);
    if (atom->type == doubleType)
        return bodyOf<LV2_Atom_Double>(atom);
    if (atom->type == intType)
        return bodyOf<LV2_Atom_Int>(atom);
    if (atom->type == longType)
        return static_cast<double>(bodyOf<LV2_Atom_Long>(atom));
    return std::nullopt;
}

std::optional<std::int64_t> Lv2Time::whole(const LV2_Atom* atom) const noexcept {
    constexpr double most = 9.0e15; // exact in a double
    if (atom != nullptr && atom->type == longType)
        return bodyOf<LV2_Atom_Long>(atom);
    const auto value = number(atom);
    if (!value || !(std::abs(*value) < most))
        return std::nullopt;
    return static_cast<std::int64_t>(std::floor(*value));
}

void Lv2Time::readEvent(const LV2_Atom_Event& event) noexcept {
    if (event.body.type != object && event.body.type != blank)
        return;
    const auto* told = reinterpret_cast<const LV2_Atom_Object*>(&event.body);
    if (told->body.otype != position)
        return;
    struct {
        const LV2_Atom *frame = nullptr, *speed = nullptr, *bar = nullptr, *barBeat = nullptr,
                       *beat = nullptr, *beatUnit = nullptr, *beatsPerBar = nullptr,
                       *beatsPerMinute = nullptr;
    } found;
    LV2_Atom_Object_Query query[] = {{frame, &found.frame},
                                     {speed, &found.speed},
                                     {bar, &found.bar},
                                     {barBeat, &found.barBeat},
                                     {beat, &found.beat},
                                     {beatUnit, &found.beatUnit},
                                     {beatsPerBar, &found.beatsPerBar},
                                     {beatsPerMinute, &found.beatsPerMinute},
                                     LV2_ATOM_OBJECT_QUERY_END};
    lv2_atom_object_query(told, query);
    TimeReport report;
    report.offset = static_cast<int>(event.time.frames);
    report.frame = whole(found.frame);
    report.bar = whole(found.bar);
    report.barBeat = number(found.barBeat);
    report.beat = number(found.beat);
    report.beatsPerBar = number(found.beatsPerBar);
    if (const auto unit = whole(found.beatUnit); unit && *unit > 0 && *unit <= 1024)
        report.beatUnit = static_cast<int>(*unit);
    report.beatsPerMinute = number(found.beatsPerMinute);
    report.speed = number(found.speed);
    reports.add(report);
}

} // namespace valveladder
