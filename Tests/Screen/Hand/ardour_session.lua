-- Run by ardour7-lua without a window: makes a session of one MIDI track, "Guide", with a plugin in it.
--   VALVE_LADDER_SESSION     folder that the session is made in
--   VALVE_LADDER_PLUGIN      URI of the LV2, or name of the VST3; VALVE_LADDER_FORMAT: LV2 or VST3
local function fail(words)
    io.stderr:write("FAILED: " .. words .. "\n")
    os.exit(1)
end

local backend = AudioEngine:set_backend("None (Dummy)", "Unit-Test", "")
backend:set_sample_rate(48000)
local session = create_session(os.getenv("VALVE_LADDER_SESSION"), "valve-ladder", 48000)
if not session then fail("no session could be made") end
local midi = ARDOUR.ChanCount(ARDOUR.DataType("midi"), 1)
local audio = ARDOUR.ChanCount(ARDOUR.DataType("audio"), 2)
local track = session:new_midi_track(midi, audio, true, ARDOUR.PluginInfo(), nil, nil, 1, "Guide",
    ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true):front()
local plugin = ARDOUR.LuaAPI.new_plugin(session, os.getenv("VALVE_LADDER_PLUGIN"),
    ARDOUR.PluginType[os.getenv("VALVE_LADDER_FORMAT")], "")
if plugin:isnil() then fail("Ardour does not know the plugin") end
if track:add_processor_by_index(plugin, 0, nil, true) ~= 0 then fail("the plugin was not added") end
session:save_state("")
close_session()
