-- Run by ardour7-lua without a window: sessions of a tempo map, in which what the plugin sends is recorded on a track
-- beside it, once for each pass, and then once for the loop. Numbers are quarters where nothing else is said.
--   VALVE_LADDER_SESSION     folder that the session is made in
--   VALVE_LADDER_PLUGIN      URI of the LV2, or name of the VST3; VALVE_LADDER_FORMAT: LV2 or VST3
--   VALVE_LADDER_BEHIND      URI of an LV2 that is put behind each plugin; empty = none
--   VALVE_LADDER_RATE, _BLOCK   Hz, samples;  VALVE_LADDER_DRIVER: name of the dummy engine's speed
--   VALVE_LADDER_SONG        "M quarter beats unit", "T quarter bpm unit" or "R ..." (a ramp to the next), by ";"
--   VALVE_LADDER_PASSES      "from to" by ";"; "none"
--   VALVE_LADDER_LOOP        "from to times"; empty = none
--   VALVE_LADDER_VARISPEED   speed of the transport, 1 = as usual
--   VALVE_LADDER_INSTANCES   how many plugins, each with a recorder
--   VALVE_LADDER_INSERTIONS  how often the plugin is put into a track of its own while the transport rolls, and two of
--                            three times taken away again; empty = never
--   VALVE_LADDER_EXPORT      "from to": exported as sound, in freewheel; empty = never
local function env(name, default)
    local value = os.getenv("VALVE_LADDER_" .. name)
    if value == nil or value == "" then return default end
    return value
end

local function say(words) io.stderr:write(words .. "\n") end

-- Caught at the end of the script, which leaves the session before the process: ended beneath running threads, it would
-- crash, and what failed would not be seen.
local function fail(words) error(words, 0) end

-- Ardour answers requests in its own time.
local function waitFor(what, reached)
    for _ = 1, 60000 do
        if reached() then return end
        ARDOUR.LuaAPI.usleep(2000)
    end
    fail(what .. " did not happen")
end

local folder, name = env("SESSION"), "valve-ladder"
local rate, block = tonumber(env("RATE", "48000")), tonumber(env("BLOCK", "1024"))
local instances = tonumber(env("INSTANCES", "1"))
local varispeed = tonumber(env("VARISPEED", "1"))
local byUser = ARDOUR.TransportRequestSource.TRS_UI

local function ticks(quarter) return Temporal.timepos_t.from_ticks(math.floor(quarter * 1920 + 0.5)) end

-- So many blocks that every processor has been through what was asked for.
local function passBlocks()
    local before = AudioEngine:processed_samples()
    waitFor("processing", function() return AudioEngine:processed_samples() >= before + 50 * block end)
end

local function makeTempoMap()
    local map = Temporal.TempoMap.write_copy()
    local ramp = nil
    for kind, at, a, b in env("SONG", ""):gmatch("(%a) ([%d%.]+) ([%d%.]+) (%d+)") do
        local place = tonumber(at) == 0 and Temporal.timepos_t(0) or ticks(tonumber(at))
        if kind == "M" then
            map:set_meter(Temporal.Meter(tonumber(a), tonumber(b)), place)
        else
            local point = map:set_tempo(Temporal.Tempo(tonumber(a), tonumber(a), tonumber(b)), place)
            if ramp and not map:set_ramped(ramp, true) then fail("no ramp could be made") end
            ramp = kind == "R" and point or nil
        end
    end
    Temporal.TempoMap.update(map)
end

local function midiTrack(session, trackName)
    local one = ARDOUR.ChanCount(ARDOUR.DataType("midi"), 1)
    return session:new_midi_track(one, one, true, ARDOUR.PluginInfo(), nil, nil, 1, trackName,
        ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true):front()
end

local function addPlugin(session, track, uri, format, place)
    local plugin = ARDOUR.LuaAPI.new_plugin(session, uri, ARDOUR.PluginType[format], "")
    if plugin:isnil() then fail("Ardour does not know " .. uri) end
    if track:add_processor_by_index(plugin, place, nil, true) ~= 0 then fail(uri .. " was not added") end
end

local function makeTracks(session)
    session:master_out():output():disconnect_all(nil)
    for i = 1, instances do
        local guide = midiTrack(session, "guide" .. i)
        local recorder = midiTrack(session, "recorder" .. i)
        addPlugin(session, guide, env("PLUGIN"), env("FORMAT", "LV2"), 0)
        if env("BEHIND") then addPlugin(session, guide, env("BEHIND"), "LV2", 1) end
        -- Away from the dummy engine's ports: they claim a latency for which Ardour would shift what it records.
        guide:input():disconnect_all(nil)
        guide:output():disconnect_all(nil)
        recorder:output():disconnect_all(nil)
        recorder:input():disconnect_all(nil)
        if recorder:input():nth(0):connect(guide:output():nth(0):name()) ~= 0 then
            fail("the tracks were not connected")
        end
    end
    say("TRACKS")
end

local function recorders(session)
    local tracks = {}
    for i = 1, instances do tracks[i] = session:route_by_name("recorder" .. i):to_track() end
    return tracks
end

local function regions(track)
    local count = 0
    for _ in track:playlist():region_list():iter() do count = count + 1 end
    return count
end

local function setRecording(session, on)
    for _, track in ipairs(recorders(session)) do
        track:rec_enable_control():set_value(on and 1 or 0, PBD.GroupControlDisposition.NoGroup)
    end
end

local function arm(session)
    setRecording(session, true)
    session:maybe_enable_record(false)
    waitFor("arming", function() return session:record_status() ~= ARDOUR.Session.RecordState.Disabled end)
end

-- Stops, and waits until what was recorded is there. Recording ends first: Ardour 7 before 7.5 lets two threads finish it
-- at once where the transport ends it, and now and then crashes by that.
local function stop(session, recorded)
    setRecording(session, false)
    passBlocks()
    session:request_stop(false, false, byUser)
    waitFor("stopping", function() return session:transport_stopped() end)
    for _, track in ipairs(recorders(session)) do
        waitFor("keeping what was recorded", function() return regions(track) >= recorded end)
    end
    passBlocks()
    say("STOPPED")
end

local function locate(session, sample)
    session:request_locate(sample, false, ARDOUR.LocateTransportDisposition.MustStop, byUser)
    waitFor("locating", function() return session:transport_sample() == sample and session:transport_stopped() end)
    passBlocks()
end

local function playPasses(session)
    local done = 0
    for from, to in env("PASSES", "0 8"):gmatch("([%d%.]+) ([%d%.]+)") do
        local finish = ticks(tonumber(to)):samples()
        locate(session, ticks(tonumber(from)):samples())
        arm(session)
        session:request_roll(byUser)
        if varispeed ~= 1 then session:request_transport_speed(varispeed, byUser) end
        waitFor("rolling", function() return session:transport_state_rolling() end)
        waitFor("the pass", function() return session:transport_sample() >= finish end)
        done = done + 1
        stop(session, done)
        say("PASS " .. from .. " " .. to)
    end
    return done
end

local function insertWhileRolling(session, times)
    local track = midiTrack(session, "inserted")
    locate(session, 0)
    session:request_roll(byUser)
    waitFor("rolling", function() return session:transport_state_rolling() end)
    for i = 1, times do
        addPlugin(session, track, env("PLUGIN"), env("FORMAT", "LV2"), 0)
        passBlocks()
        if i % 3 ~= 0 and track:remove_processor(track:nth_plugin(0), nil, true) ~= 0 then
            fail("the plugin was not taken away")
        end
        if not session:transport_state_rolling() then fail("the transport stopped") end
    end
    session:request_stop(false, false, byUser)
    waitFor("stopping", function() return session:transport_stopped() end)
    say("INSERTED " .. times)
end

-- In freewheel: blocks come as fast as they are done.
local function export(session, from, to)
    local job = session:simple_export()
    job:set_folder(folder)
    job:set_name("exported")
    job:set_range(ticks(from):samples(), ticks(to):samples())
    if not job:set_preset("75969a1c-3133-4694-864b-a1fa50e43348") then fail("no preset for WAV") end
    if not job:run_export() then fail("nothing was exported") end
    -- Ardour 7.3 now and then writes beyond its own memory in an export, whatever plugins there are, and ends by that as
    -- the session closes: what stands behind the plugin is taken away before, so that it writes down what it was sent.
    for i = 1, env("BEHIND") and instances or 0 do
        local guide = session:route_by_name("guide" .. i)
        guide:remove_processor(guide:nth_plugin(1), nil, true)
    end
    collectgarbage()
    passBlocks()
    say("EXPORTED")
end

-- Scripts cannot make a loop range, but a session file can hold one.
local function writeLoop(from, to)
    local path = folder .. "/" .. name .. ".ardour"
    local file = io.open(path)
    local text = file:read("a")
    file:close()
    local range = string.format('<Location id="999999" name="Loop" start="b%d" end="b%d" ' ..
        'flags="IsAutoLoop,IsHidden" locked="0" timestamp="0" cue="0"/>', math.floor(from * 1920),
        math.floor(to * 1920))
    local found
    text, found = text:gsub("<Locations>", "<Locations>" .. range, 1)
    if found == 0 then text, found = text:gsub("<Locations/>", "<Locations>" .. range .. "</Locations>", 1) end
    if found == 0 then fail("the session file has no locations") end
    file = io.open(path, "w")
    file:write(text)
    file:close()
end

-- The session as it was saved, plugin and all, opened again; stopped in the middle of the turn after the last one
-- wanted.
local function playLoop(from, to, times, recordedBefore)
    writeLoop(from, to)
    local session = load_session(folder, name)
    if not session then fail("the session could not be opened again") end
    passBlocks()
    arm(session)
    session:request_play_loop(true, true)
    waitFor("looping", function() return session:transport_state_rolling() and session:get_play_loop() end)
    local middle = (ticks(from):samples() + ticks(to):samples()) / 2
    local last, turns = -1, 0
    waitFor("the loop", function()
        local now = session:transport_sample()
        if now < last then turns = turns + 1 end
        last = now
        return turns > times or (turns == times and now >= middle)
    end)
    stop(session, recordedBefore + 1)
    session:save_state("")
    close_session()
    say("LOOP " .. turns)
end

local function main()
    local backend = AudioEngine:set_backend("None (Dummy)", "Unit-Test", "")
    backend:set_driver(env("DRIVER", "Normal Speed"))
    backend:set_buffer_size(block)
    backend:set_sample_rate(rate)
    local session = create_session(folder, name, rate)
    if not session then fail("no session could be made") end
    makeTempoMap()
    makeTracks(session)
    passBlocks()
    local recorded = playPasses(session)
    if env("INSERTIONS") then insertWhileRolling(session, tonumber(env("INSERTIONS"))) end
    local first, last = env("EXPORT", ""):match("([%d%.]+) ([%d%.]+)")
    if first then export(session, tonumber(first), tonumber(last)) end
    session:save_state("")
    close_session()
    local from, to, times = env("LOOP", ""):match("([%d%.]+) ([%d%.]+) (%d+)")
    if from then playLoop(tonumber(from), tonumber(to), tonumber(times), recorded) end
    say("DONE")
end

local ok, words = pcall(main)
if not ok then
    say("FAILED: " .. tostring(words))
    close_session()
    os.exit(1)
end
