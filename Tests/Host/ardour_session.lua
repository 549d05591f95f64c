-- Run by ardour7-lua without a window: a session with the plugin on one MIDI track and a second track that records
-- what the plugin sends. It rolls once from the start, then loops; each pass is recorded.
--   VALVE_LADDER_SESSION  folder that the session is made in
--   VALVE_LADDER_URI      the plugin
--   VALVE_LADDER_QUARTERS how far the first pass rolls, in quarters at Ardour's default tempo of 120
--   VALVE_LADDER_LOOP_FROM, _TO, _PASSES   the loop in quarters, and how often it is played
local folder = os.getenv("VALVE_LADDER_SESSION")
local uri = os.getenv("VALVE_LADDER_URI")
local quarters = tonumber(os.getenv("VALVE_LADDER_QUARTERS"))
local loopFrom = tonumber(os.getenv("VALVE_LADDER_LOOP_FROM"))
local loopTo = tonumber(os.getenv("VALVE_LADDER_LOOP_TO"))
local loopPasses = tonumber(os.getenv("VALVE_LADDER_LOOP_PASSES"))
local rate = 48000
local samplesPerQuarter = rate / 2

local function fail(words)
    print("FAILED: " .. words)
    os.exit(1)
end

local function wait(seconds)
    ARDOUR.LuaAPI.usleep(math.floor(seconds * 1000000))
end

-- Waits until `reached` holds; Ardour's transport answers a request in its own time.
local function waitFor(what, seconds, reached)
    for _ = 1, seconds * 100 do
        if reached() then return end
        wait(0.01)
    end
    fail(what .. " did not happen within " .. seconds .. " s")
end

AudioEngine:set_backend("None (Dummy)", "Unit-Test", "")
local session = create_session(folder, "valve-ladder", rate)
if not session then fail("no session could be made in " .. folder) end

local function midiTrack(name)
    local one = ARDOUR.ChanCount(ARDOUR.DataType("midi"), 1)
    return session:new_midi_track(one, one, true, ARDOUR.PluginInfo(), nil, nil, 1, name,
        ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true):front()
end

local guide = midiTrack("guide")
local recorder = midiTrack("recorder")
local plugin = ARDOUR.LuaAPI.new_plugin(session, uri, ARDOUR.PluginType.LV2, "")
if plugin:isnil() then fail("Ardour does not know " .. uri) end
if guide:add_processor_by_index(plugin, 0, nil, true) ~= 0 then fail("the plugin was not added") end
recorder:input():disconnect_all(nil)
if recorder:input():nth(0):connect(guide:output():nth(0):name()) ~= 0 then fail("the tracks were not connected") end
wait(1.0)

local function stop()
    session:request_stop(false, false, ARDOUR.TransportRequestSource.TRS_UI)
    waitFor("stopping", 10, function() return session:transport_stopped() end)
    wait(0.5)
end

local function locate(quarter)
    session:request_locate(math.floor(quarter * samplesPerQuarter), false,
        ARDOUR.LocateTransportDisposition.MustStop, ARDOUR.TransportRequestSource.TRS_UI)
    waitFor("locating", 10, function()
        return session:transport_sample() == math.floor(quarter * samplesPerQuarter)
    end)
    wait(0.5)
end

local function arm(track)
    track:rec_enable_control():set_value(1, PBD.GroupControlDisposition.NoGroup)
    session:maybe_enable_record(false)
end

-- First pass: from the start, straight through.
locate(0)
arm(recorder)
session:request_roll(ARDOUR.TransportRequestSource.TRS_UI)
waitFor("rolling", 10, function() return session:transport_rolling() end)
waitFor("the first pass", math.ceil(quarters / 2) + 30, function()
    return session:transport_sample() >= quarters * samplesPerQuarter
end)
stop()
print("RECORDED straight")
session:save_state("")
close_session()

-- Scripts cannot make a loop range, but a session file can hold one.
local path = folder .. "/valve-ladder.ardour"
local file = io.open(path)
local text = file:read("a")
file:close()
local range = string.format('<Location id="999999" name="Loop" start="b%d" end="b%d" flags="IsAutoLoop,IsHidden" ' ..
    'locked="0" timestamp="0" cue="0"/>', math.floor(loopFrom * 1920), math.floor(loopTo * 1920))
local found
text, found = text:gsub("<Locations>", "<Locations>" .. range, 1)
if found == 0 then text, found = text:gsub("<Locations/>", "<Locations>" .. range .. "</Locations>", 1) end
if found == 0 then fail("the session file has no locations") end
file = io.open(path, "w")
file:write(text)
file:close()

-- Second pass: the session as it was saved, plugin and all, looped.
session = load_session(folder, "valve-ladder")
if not session then fail("the session could not be opened again") end
wait(1.0)
arm(session:route_by_name("recorder"):to_track())
session:request_play_loop(true, true)
waitFor("looping", 10, function() return session:transport_rolling() and session:get_play_loop() end)
local last, passes = -1, 0
waitFor("the loop", math.ceil((loopTo - loopFrom) / 2) * (loopPasses + 2) + 30, function()
    local now = session:transport_sample()
    if now < last then passes = passes + 1 end
    last = now
    -- In the middle of the pass after the last one wanted.
    return passes >= loopPasses and now >= (loopFrom + loopTo) / 2 * samplesPerQuarter
end)
stop()
print("RECORDED looped")
session:save_state("")
close_session()
print("DONE")
