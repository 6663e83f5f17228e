/* menus.h - menus by name: what is served again and again, written once in the house, the event or a catalog.
 * In a service `menu: NAME` stands for the dishes of that menu, `menu: {use: NAME, without: [slaw], also: [{dish: cobbler, take: 60 %}]}`
 * for them with fewer, more or other lines; how its guests choose, its style and its length come along unless the service says
 * them. */
#ifndef PW_MENUS_H
#define PW_MENUS_H

#include "read/raw.h"

/** The event's tree with the named menus of its services filled in, before anything is typed; every line keeps the place it was
 *  written at.  An unknown name is a fault.  NULL when memory is out. */
struct pw_node *pw_menus_fill(const struct pw_node *root, const struct pw_catalog *catalog, struct pw_reader *r);

#endif
