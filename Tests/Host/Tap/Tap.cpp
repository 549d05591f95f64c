// A bare LV2 of the tests' own, with nothing of Valve Ladder or JUCE in it. Put behind a plugin in a host's
// track it passes on what comes, adds notes on channel 16 at a raster while the transport rolls, and writes
// down all that went out, once it is taken away, into the file that VALVE_LADDER_TAPPED names. So what a host
// lost on the way to a recording is told from what was never sent.
//
// A line is "frame offset samples status data1 data2": the sample of the session's time line, the sample
// within the block, the block's length, and the message.

#include <lv2/atom/atom.h>
#include <lv2/atom/util.h>
#include <lv2/core/lv2.h>
#include <lv2/midi/midi.h>
#include <lv2/time/time.h>
#include <lv2/urid/urid.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <string_view>
#include <vector>

namespace {

constexpr const char* uri = "urn:valveladder:tests:tap";
/// Samples from one note to the next, a prime, so that notes come at every sample of a block in turn.
constexpr std::int64_t raster = 331;
constexpr std::int64_t noteLength = 100;
constexpr std::size_t mostMessages = std::size_t{1} << 20U;

using Bytes = std::array<std::uint8_t, 3>;

struct Message {
    std::int64_t frame = 0;
    std::uint32_t offset = 0;
    std::uint32_t samples = 0;
    Bytes bytes{};
};

struct Tap {
    explicit Tap(const LV2_URID_Map& map)
        : midi(map.map(map.handle, LV2_MIDI__MidiEvent)), position(map.map(map.handle, LV2_TIME__Position)),
          speedKey(map.map(map.handle, LV2_TIME__speed)), frameKey(map.map(map.handle, LV2_TIME__frame)),
          sequence(map.map(map.handle, LV2_ATOM__Sequence)) {
        sent.reserve(mostMessages);
    }

    void run(std::uint32_t samples);
    void write() const;

    const LV2_Atom_Sequence* in = nullptr;
    LV2_Atom_Sequence* out = nullptr;

private:
    void readPosition(const LV2_Atom& atom);
    void send(std::uint32_t offset, const Bytes& bytes);
    void sendTicksTo(std::uint32_t offset);

    const LV2_URID midi, position, speedKey, frameKey, sequence;
    bool rolling = false;
    std::int64_t frame = 0;  ///< of the block's first sample
    std::int64_t rolled = 0; ///< samples since the transport rolled first, at the block's first
    std::int64_t ticked = 0; ///< those up to which notes were sent
    std::uint32_t blockSamples = 0;
    std::uint32_t capacity = 0;
    std::vector<Message> sent;
};

/// Hosts tell a position when it does not follow from the one before, or in each block. While it rolls only
/// what lies behind the own count is news: Qtractor tells that it rolls before it does, and later frames that
/// it reads ahead.
void Tap::readPosition(const LV2_Atom& atom) {
    const auto& object = reinterpret_cast<const LV2_Atom_Object&>(atom);
    if (object.body.otype != position)
        return;
    const LV2_Atom* speed = nullptr;
    const LV2_Atom* told = nullptr;
    lv2_atom_object_get(&object, speedKey, &speed, frameKey, &told, 0);
    if (speed == nullptr || told == nullptr)
        return;
    const bool rolls = reinterpret_cast<const LV2_Atom_Float*>(speed)->body != 0.0F;
    const std::int64_t toldFrame = reinterpret_cast<const LV2_Atom_Long*>(told)->body;
    if (rolls && (!rolling || toldFrame < frame))
        frame = toldFrame;
    rolling = rolls;
}

void Tap::send(std::uint32_t offset, const Bytes& bytes) {
    struct {
        LV2_Atom_Event event;
        Bytes bytes;
    } event{{{offset}, {3, midi}}, bytes};
    if (lv2_atom_sequence_append_event(out, capacity, &event.event) != nullptr && rolling &&
        sent.size() < mostMessages)
        sent.push_back({frame + offset, offset, blockSamples, bytes});
}

/// The raster's notes that come before this sample of the block.
void Tap::sendTicksTo(std::uint32_t offset) {
    for (; rolling && ticked < rolled + offset; ++ticked) {
        const auto pitch = static_cast<std::uint8_t>(ticked / raster % 128);
        const auto at = static_cast<std::uint32_t>(ticked - rolled);
        if (ticked % raster == 0)
            send(at, {LV2_MIDI_MSG_NOTE_ON | 15, pitch, 64});
        else if (ticked % raster == noteLength)
            send(at, {LV2_MIDI_MSG_NOTE_OFF | 15, pitch, 64});
    }
}

void Tap::run(std::uint32_t samples) {
    blockSamples = samples;
    capacity = out->atom.size;
    lv2_atom_sequence_clear(out);
    out->atom.type = sequence;
    LV2_ATOM_SEQUENCE_FOREACH(in, event) {
        if (event->body.type != midi) {
            readPosition(event->body);
            continue;
        }
        sendTicksTo(static_cast<std::uint32_t>(event->time.frames));
        Bytes bytes{};
        std::memcpy(bytes.data(), event + 1, std::min<std::size_t>(event->body.size, bytes.size()));
        send(static_cast<std::uint32_t>(event->time.frames), bytes);
    }
    sendTicksTo(samples);
    if (rolling) {
        frame += samples;
        rolled += samples;
    }
}

void Tap::write() const {
    const char* path = std::getenv("VALVE_LADDER_TAPPED");
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(
        path != nullptr && !sent.empty() ? std::fopen(path, "w") : nullptr, std::fclose);
    for (const Message& message : sent)
        if (file != nullptr)
            std::fprintf(file.get(), "%lld %u %u %u %u %u\n", static_cast<long long>(message.frame),
                         message.offset, message.samples, message.bytes[0], message.bytes[1],
                         message.bytes[2]);
}

Tap& of(LV2_Handle handle) {
    return *static_cast<Tap*>(handle);
}

LV2_Handle instantiate(const LV2_Descriptor*, double, const char*, const LV2_Feature* const* features) {
    for (; *features != nullptr; ++features)
        if (std::string_view((*features)->URI) == LV2_URID__map)
            return std::make_unique<Tap>(*static_cast<const LV2_URID_Map*>((*features)->data)).release();
    return nullptr;
}

void connectPort(LV2_Handle handle, std::uint32_t port, void* data) {
    if (port == 0)
        of(handle).in = static_cast<const LV2_Atom_Sequence*>(data);
    else
        of(handle).out = static_cast<LV2_Atom_Sequence*>(data);
}

void cleanUp(LV2_Handle handle) {
    const std::unique_ptr<Tap> tap(&of(handle));
    tap->write();
}

} // namespace

LV2_SYMBOL_EXPORT const LV2_Descriptor* lv2_descriptor(std::uint32_t index) {
    static const LV2_Descriptor descriptor{
        uri,
        instantiate,
        connectPort,
        nullptr,
        [](LV2_Handle handle, std::uint32_t samples) { of(handle).run(samples); },
        nullptr,
        cleanUp,
        nullptr};
    return index == 0 ? &descriptor : nullptr;
}
