/* task_kind.c - the table of kinds of tasks, in the order of the enum [S1]. */
#include "plan/crew/task_kind.h"

static const struct pw_task_kind_row ROWS[PW_TASK__COUNT] = {
    [PW_TASK_ORDER] = {"order", false, true, true},
    [PW_TASK_TAKE_IN] = {"take_in", false, true, true},
    [PW_TASK_THAW] = {"thaw", false, true, true},
    [PW_TASK_BRINE] = {"brine", false, true, true},
    [PW_TASK_PREP] = {"prep", false, true, true},
    [PW_TASK_DRIVE] = {"drive", false, false, false},
    [PW_TASK_SET_UP] = {"set_up", false, false, false},
    [PW_TASK_LIGHT] = {"light", false, false, false},
    [PW_TASK_FEED] = {"feed", false, true, true},
    [PW_TASK_FIRE_CHECK] = {"fire_check", true, true, false},
    [PW_TASK_OFF] = {"off", true, false, false},
    [PW_TASK_LOAD] = {"load", false, false, false},
    [PW_TASK_BARK_TEST] = {"bark_test", true, true, false},
    [PW_TASK_MOP] = {"mop", false, true, true},
    [PW_TASK_TURN] = {"turn", false, false, false},
    [PW_TASK_CORE] = {"core", true, true, false},
    [PW_TASK_WRAP] = {"wrap", true, false, false},
    [PW_TASK_CARRY] = {"carry", false, false, false},
    [PW_TASK_WRAP_CARRY] = {"wrap_carry", true, false, false},
    [PW_TASK_PROBE] = {"probe", true, true, false},
    [PW_TASK_REST_OVER] = {"rest_over", true, true, false},
    [PW_TASK_HOLD_CHECK] = {"hold_check", true, true, false},
    [PW_TASK_CHILL] = {"chill", true, false, false},
    [PW_TASK_COOL_CHECK] = {"cool_check", true, true, false},
    [PW_TASK_CUT] = {"cut", false, false, false},
    [PW_TASK_REHEAT] = {"reheat", false, false, false},
    [PW_TASK_PAN_UP] = {"pan_up", false, false, false},
    [PW_TASK_SERVE] = {"serve", false, false, false},
    [PW_TASK_CLEAR] = {"clear", false, false, false},
    [PW_TASK_COOL] = {"cool", true, false, false},
    [PW_TASK_BURN_DOWN] = {"burn_down", false, false, false},
    [PW_TASK_ASH] = {"ash", false, false, false},
};

const struct pw_task_kind_row *pw_task_kind_row(enum pw_task_kind kind) { return &ROWS[kind]; }
