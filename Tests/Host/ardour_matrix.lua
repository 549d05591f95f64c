-- Run by ardour7-lua without a window: sessions of a tempo map, in which what the plugin sends is recorded on a track
-- beside it, once for each pass. Numbers are quarters where nothing else is said.
--   VALVE_LADDER_SESSION     folder that the session is made in
--   VALVE_LADDER_PLUGIN      URI of the LV2, or name of the VST3; VALVE_LADDER_FORMAT: LV2 or VST3
--   VALVE_LADDER_RATE, _BLOCK   Hz, samples;  VALVE_LADDER_DRIVER: name of the dummy engine's speed
--   VALVE_LADDER_SONG        "M quarter beats unit", "T quarter bpm unit" or "R ..." (a ramp to the next), by ";"
--   VALVE_LADDER_PASSES      "from to" by ";"
--   VALVE_LADDER_VARISPEED   speed of the transport, 1 = as usual
--   VALVE_LADDER_INSTANCES   how many plugins, each with a recorder
local function env(name, default)
    local value = os.getenv("VALVE_LADDER_" .. name)
    if value == nil or value == "" then return default end
    return value
end

local function say(words) io.stderr:write(words .. "\n") end

local function wait(seconds) ARDOUR.LuaAPI.usleep(math.floor(seconds * 1000000)) end

local function fail(words)
    say("FAILED: " .. words)
    os.exit(1)
end

local function waitFor(what, reached)
    for _ = 1, 24000 do
        if reached() then return end
        wait(0.005)
    end
    fail(what .. " did not happen")
end

local function ticks(quarter) return Temporal.timepos_t.from_ticks(math.floor(quarter * 1920 + 0.5)) end

local function main()
    local rate = tonumber(env("RATE", "48000"))
    local backend = AudioEngine:set_backend("None (Dummy)", "Unit-Test", "")
    backend:set_driver(env("DRIVER", "Normal Speed"))
    backend:set_buffer_size(tonumber(env("BLOCK", "1024")))
    backend:set_sample_rate(rate)
    local session = create_session(env("SESSION"), "valve-ladder", rate)
    if not session then fail("no session could be made") end

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

    local one = ARDOUR.ChanCount(ARDOUR.DataType("midi"), 1)
    local function midiTrack(name)
        return session:new_midi_track(one, one, true, ARDOUR.PluginInfo(), nil, nil, 1, name,
            ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true):front()
    end
    local recorders = {}
    session:master_out():output():disconnect_all(nil)
    for i = 1, tonumber(env("INSTANCES", "1")) do
        local guide = midiTrack("guide" .. i)
        local recorder = midiTrack("recorder" .. i)
        local plugin = ARDOUR.LuaAPI.new_plugin(session, env("PLUGIN"), ARDOUR.PluginType[env("FORMAT", "LV2")], "")
        if plugin:isnil() then fail("Ardour does not know " .. env("PLUGIN")) end
        if guide:add_processor_by_index(plugin, 0, nil, true) ~= 0 then fail("the plugin was not added") end
        -- Away from the dummy engine's ports: they claim a latency for which Ardour would shift what it records.
        guide:input():disconnect_all(nil)
        guide:output():disconnect_all(nil)
        recorder:output():disconnect_all(nil)
        recorder:input():disconnect_all(nil)
        if recorder:input():nth(0):connect(guide:output():nth(0):name()) ~= 0 then
            fail("the tracks were not connected")
        end
        recorders[i] = recorder
    end
    wait(0.5)

    local varispeed = tonumber(env("VARISPEED", "1"))
    for from, to in env("PASSES", "0 8"):gmatch("([%d%.]+) ([%d%.]+)") do
        local start, finish = ticks(tonumber(from)):samples(), ticks(tonumber(to)):samples()
        session:request_locate(start, false, ARDOUR.LocateTransportDisposition.MustStop,
            ARDOUR.TransportRequestSource.TRS_UI)
        waitFor("locating", function() return session:transport_sample() == start and session:transport_stopped() end)
        wait(0.2)
        for _, recorder in ipairs(recorders) do
            recorder:rec_enable_control():set_value(1, PBD.GroupControlDisposition.NoGroup)
        end
        session:maybe_enable_record(false)
        if varispeed ~= 1 then session:request_transport_speed(varispeed, true, ARDOUR.TransportRequestSource.TRS_UI) end
        session:request_roll(ARDOUR.TransportRequestSource.TRS_UI)
        waitFor("rolling", function() return session:transport_rolling() end)
        waitFor("the pass", function() return session:transport_sample() >= finish end)
        session:request_stop(false, false, ARDOUR.TransportRequestSource.TRS_UI)
        waitFor("stopping", function() return session:transport_stopped() end)
        wait(0.3)
        say("PASS " .. from .. " " .. to)
    end
    session:save_state("")
    close_session()
    say("DONE")
end

local ok, words = pcall(main)
if not ok then fail(tostring(words)) end
