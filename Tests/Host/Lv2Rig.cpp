#include "Host/Lv2Rig.h"

#include <lv2/atom/forge.h>
#include <lv2/atom/util.h>
#include <lv2/buf-size/buf-size.h>
#include <lv2/midi/midi.h>
#include <lv2/options/options.h>
#include <lv2/patch/patch.h>
#include <lv2/time/time.h>

#include <dlfcn.h>

#include <algorithm>

namespace valveladder::host {

namespace {

constexpr std::size_t eventBytes = 64U << 10U;
constexpr std::uint32_t eventsIn = 4, eventsOut = 5;

std::filesystem::path libraryOf(const std::filesystem::path& bundle) {
    for (const auto& entry : std::filesystem::directory_iterator(bundle))
        if (entry.path().extension() == ".so")
            return entry.path();
    return {};
}

} // namespace

LV2_URID Lv2Rig::mapUri(LV2_URID_Map_Handle self, const char* uri) {
    auto& ids = static_cast<Lv2Rig*>(self)->ids;
    return ids.try_emplace(uri, static_cast<LV2_URID>(ids.size() + 1)).first->second;
}

LV2_URID Lv2Rig::id(const char* uri) {
    return mapUri(this, uri);
}

std::unique_ptr<Lv2Rig> Lv2Rig::load(double sampleRate, int maxSamples, std::string& error) {
    const auto bundle = builtPlugin(Format::lv2);
    std::unique_ptr<Lv2Rig> rig(new Lv2Rig);
    rig->library = dlopen(libraryOf(bundle).c_str(), RTLD_NOW | RTLD_LOCAL);
    const auto entry = rig->library == nullptr
                           ? nullptr
                           : reinterpret_cast<LV2_Descriptor_Function>(dlsym(rig->library, "lv2_descriptor"));
    if (entry == nullptr) {
        error = "the LV2 could not be opened: " + bundle.string();
        return nullptr;
    }
    rig->descriptor = entry(0);
    const std::int32_t longest = maxSamples;
    const LV2_Options_Option options[] = {{LV2_OPTIONS_INSTANCE, 0, rig->id(LV2_BUF_SIZE__maxBlockLength),
                                           sizeof(longest), rig->id(LV2_ATOM__Int), &longest},
                                          {LV2_OPTIONS_INSTANCE, 0, 0, 0, 0, nullptr}};
    const LV2_Feature map{LV2_URID__map, &rig->map};
    const LV2_Feature bounded{LV2_BUF_SIZE__boundedBlockLength, nullptr};
    const LV2_Feature chosen{LV2_OPTIONS__options, const_cast<LV2_Options_Option*>(options)};
    const LV2_Feature* const features[] = {&map, &bounded, &chosen, nullptr};
    rig->instance = rig->descriptor->instantiate(rig->descriptor, sampleRate, bundle.c_str(), features);
    if (rig->instance == nullptr) {
        error = "the LV2 made no instance";
        return nullptr;
    }
    rig->sound.resize(static_cast<std::size_t>(maxSamples));
    rig->in.resize(eventBytes / 8);
    rig->out.resize(eventBytes / 8);
    rig->descriptor->activate(rig->instance);
    return rig;
}

Lv2Rig::~Lv2Rig() {
    if (instance != nullptr) {
        descriptor->deactivate(instance);
        descriptor->cleanup(instance);
    }
    // The library stays: JUCE's threads end in their own time.
}

void Lv2Rig::run(int samples, const std::vector<TimeReport>& reports, const std::vector<MidiEvent>& midi) {
    writeInput(reports, midi);
    auto* output = reinterpret_cast<LV2_Atom_Sequence*>(out.data());
    output->atom = {outRoom, 0};
    for (std::uint32_t port = 0; port < eventsIn; ++port)
        descriptor->connect_port(instance, port, portsGiven ? sound.data() : nullptr);
    descriptor->connect_port(instance, eventsIn, portsGiven ? in.data() : nullptr);
    descriptor->connect_port(instance, eventsOut, portsGiven ? out.data() : nullptr);
    aroundRun([&] { descriptor->run(instance, static_cast<std::uint32_t>(samples)); });
    if (portsGiven)
        readOutput();
    done += samples;
}

void Lv2Rig::writeInput(const std::vector<TimeReport>& reports, const std::vector<MidiEvent>& midi) {
    LV2_Atom_Forge forge;
    lv2_atom_forge_init(&forge, &map);
    lv2_atom_forge_set_buffer(&forge, reinterpret_cast<std::uint8_t*>(in.data()), eventBytes);
    LV2_Atom_Forge_Frame all, one;
    lv2_atom_forge_sequence_head(&forge, &all, 0);
    for (const auto& [parameter, value] : wanted) {
        lv2_atom_forge_frame_time(&forge, 0);
        lv2_atom_forge_object(&forge, &one, 0, id(LV2_PATCH__Set));
        lv2_atom_forge_key(&forge, id(LV2_PATCH__property));
        lv2_atom_forge_urid(&forge, id((std::string(descriptor->URI) + ":" + parameter).c_str()));
        lv2_atom_forge_key(&forge, id(LV2_PATCH__value));
        lv2_atom_forge_float(&forge, value);
        lv2_atom_forge_pop(&forge, &one);
    }
    wanted.clear();
    for (const MidiEvent& event : midi) {
        lv2_atom_forge_frame_time(&forge, event.sample);
        lv2_atom_forge_atom(&forge, event.size, id(LV2_MIDI__MidiEvent));
        lv2_atom_forge_write(&forge, event.bytes.data(), event.size);
    }
    const auto number = [&](const char* uri, const auto& value, auto write) {
        if (!value)
            return;
        lv2_atom_forge_key(&forge, id(uri));
        write(&forge, *value);
    };
    const auto asFloat = [](LV2_Atom_Forge* f, double v) { lv2_atom_forge_float(f, static_cast<float>(v)); };
    const auto asLong = [](LV2_Atom_Forge* f, std::int64_t v) { lv2_atom_forge_long(f, v); };
    for (const TimeReport& report : reports) {
        lv2_atom_forge_frame_time(&forge, report.offset);
        lv2_atom_forge_object(&forge, &one, 0, id(LV2_TIME__Position));
        number(LV2_TIME__frame, report.frame, asLong);
        number(LV2_TIME__speed, report.speed, asFloat);
        number(LV2_TIME__bar, report.bar, asLong);
        number(LV2_TIME__barBeat, report.barBeat, asFloat);
        number(LV2_TIME__beat, report.beat, [](LV2_Atom_Forge* f, double v) { lv2_atom_forge_double(f, v); });
        number(LV2_TIME__beatUnit, report.beatUnit,
               [](LV2_Atom_Forge* f, int v) { lv2_atom_forge_int(f, v); });
        number(LV2_TIME__beatsPerBar, report.beatsPerBar, asFloat);
        number(LV2_TIME__beatsPerMinute, report.beatsPerMinute, asFloat);
        lv2_atom_forge_pop(&forge, &one);
    }
    lv2_atom_forge_pop(&forge, &all);
}

void Lv2Rig::readOutput() {
    const auto* sequence = reinterpret_cast<const LV2_Atom_Sequence*>(out.data());
    LV2_ATOM_SEQUENCE_FOREACH(sequence, event) {
        if (event->body.type != id(LV2_MIDI__MidiEvent))
            continue;
        Sent message;
        message.sample = done + event->time.frames;
        message.event.sample = static_cast<int>(event->time.frames);
        message.event.size = static_cast<std::uint8_t>(event->body.size);
        const auto* bytes = reinterpret_cast<const std::uint8_t*>(event + 1);
        std::copy_n(bytes, std::min<std::uint32_t>(event->body.size, 3), message.event.bytes.begin());
        messages.push_back(message);
    }
}

} // namespace valveladder::host
