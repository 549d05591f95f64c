// A stand-in for ALSA's sequencer, for programs that refuse to start where the kernel has none: opens, takes
// everything and gives nothing. To be loaded before ALSA's library (LD_PRELOAD). Its functions stand for
// those of the same name in alsa/seq.h, but for arguments that nobody here looks at.

#include <poll.h>
#include <unistd.h>

#include <array>
#include <cerrno>

namespace {

/// Nothing is ever written into it.
int silentPipe() {
    static const std::array<int, 2> ends = [] {
        std::array<int, 2> made{-1, -1};
        return pipe(made.data()) == 0 ? made : std::array<int, 2>{-1, -1};
    }();
    return ends[0];
}

constexpr int ownClient = 128;

} // namespace

#define VALVE_LADDER_TAKES(name)                                                                             \
    __attribute__((visibility("default"))) int name() {                                                      \
        return 0;                                                                                            \
    }
#define VALVE_LADDER_HAS_NONE(name)                                                                          \
    __attribute__((visibility("default"))) int name() {                                                      \
        return -ENOENT;                                                                                      \
    }

extern "C" {

__attribute__((visibility("default"))) int snd_seq_open(void** sequencer) {
    static int handle = 0;
    *sequencer = &handle;
    return 0;
}
__attribute__((visibility("default"))) int snd_seq_client_id() {
    return ownClient;
}
__attribute__((visibility("default"))) int snd_seq_poll_descriptors_count() {
    return 1;
}
__attribute__((visibility("default"))) int snd_seq_poll_descriptors(void*, pollfd* descriptors, unsigned,
                                                                    short events) {
    *descriptors = {silentPipe(), events, 0};
    return 1;
}

VALVE_LADDER_TAKES(snd_seq_close)
VALVE_LADDER_TAKES(snd_seq_alloc_queue)
VALVE_LADDER_TAKES(snd_seq_control_queue)
VALVE_LADDER_TAKES(snd_seq_create_simple_port)
VALVE_LADDER_TAKES(snd_seq_delete_simple_port)
VALVE_LADDER_TAKES(snd_seq_drain_output)
VALVE_LADDER_TAKES(snd_seq_drop_input)
VALVE_LADDER_TAKES(snd_seq_drop_output)
VALVE_LADDER_TAKES(snd_seq_event_output)
VALVE_LADDER_TAKES(snd_seq_event_output_direct)
VALVE_LADDER_TAKES(snd_seq_event_input_pending)
VALVE_LADDER_TAKES(snd_seq_free_event)
VALVE_LADDER_TAKES(snd_seq_free_queue)
VALVE_LADDER_TAKES(snd_seq_get_any_client_info)
VALVE_LADDER_TAKES(snd_seq_get_any_port_info)
VALVE_LADDER_TAKES(snd_seq_get_port_info)
VALVE_LADDER_TAKES(snd_seq_get_queue_status)
VALVE_LADDER_TAKES(snd_seq_get_queue_tempo)
VALVE_LADDER_TAKES(snd_seq_remove_events)
VALVE_LADDER_TAKES(snd_seq_set_client_name)
VALVE_LADDER_TAKES(snd_seq_set_port_info)
VALVE_LADDER_TAKES(snd_seq_set_queue_tempo)
VALVE_LADDER_TAKES(snd_seq_set_queue_timer)
VALVE_LADDER_TAKES(snd_seq_subscribe_port)
VALVE_LADDER_TAKES(snd_seq_unsubscribe_port)
VALVE_LADDER_HAS_NONE(snd_seq_event_input)
VALVE_LADDER_HAS_NONE(snd_seq_query_next_client)
VALVE_LADDER_HAS_NONE(snd_seq_query_next_port)
VALVE_LADDER_HAS_NONE(snd_seq_query_port_subscribers)
VALVE_LADDER_HAS_NONE(snd_timer_open)
VALVE_LADDER_HAS_NONE(snd_timer_query_open)
}
