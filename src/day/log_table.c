/* log_table.c - the words of the log, once: help, reader and buttons take them from here. */
#include "day/log.h"

static const struct pw_log_row ROWS[PW_LOG__COUNT] = {
    [PW_LOG_ON] = {"on", "LOT [COUNT] [PLACE]", "on B 4 trailer hot", "loaded; without count or place: as planned"},
    [PW_LOG_WAITS] = {"waits", "LOT [COUNT]", "waits B 2",
                      "not on yet, though its time has come; it counts as waiting until a line says it is on"},
    [PW_LOG_WRAPPED] = {"wrapped", "LOT [COUNT] [PLACE]", "wrapped B 3", "wrapped, and where it lies now"},
    [PW_LOG_CARRIED] = {"carried", "LOT [COUNT] PLACE", "carried B 2 trailer hot",
                        "moved in the middle of a stage, and where it lies now"},
    [PW_LOG_OFF] = {"off", "LOT [COUNT or all]", "off B all", "taken off the pit or out of the oven"},
    [PW_LOG_CORE] = {"core", "LOT READING ...", "core B 141 139 144 F", "core temperatures of one lot, as read"},
    [PW_LOG_FIRE_OUT] = {"fire-out", "PIT DURATION [still]", "fire-out trailer 20 min still",
                         "a fire was out for so long, up to this minute; still: it is not burning yet"},
    [PW_LOG_LIT] = {"lit", "PIT", "lit offset", "a fire was lit, or is burning again"},
    [PW_LOG_GOT] = {"got", "LOT or ITEM COUNT or WEIGHT", "got ribs 26", "what was really delivered, in all"},
    [PW_LOG_LOST] = {"lost", "LOT COUNT", "lost chicken 6", "dropped, burnt, thrown away"},
    [PW_LOG_ABSENT] = {"absent", "ROLE or PERSON [until TIME]", "absent pit hand until 08:00", "somebody is not there"},
    [PW_LOG_GUESTS] = {"guests", "SERVICE COUNT", "guests dinner 260", "how many eat, all classes together"},
    [PW_LOG_WOOD] = {"wood", "WEIGHT left", "wood 40 kg left", "what is left to burn"},
    [PW_LOG_WEATHER] = {"weather", "TEMPERATURE [wind SPEED]", "weather 38 F wind 25 mph", "the weather now"},
    [PW_LOG_NOTE] = {"note", "WORDS", "note door hinge broken", "kept as a remark; changes nothing"},
};

const struct pw_log_row *pw_log_row(enum pw_log_verb verb) { return &ROWS[verb]; }
