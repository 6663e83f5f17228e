/* service_names.h - what a meal without an id is called: breakfast, lunch or supper by its time, with a number behind it when there
 * are more. */
#ifndef PW_SERVICE_NAMES_H
#define PW_SERVICE_NAMES_H

#include "read/reader.h"

/** The word for a meal at a minute of the day (0 to 1439). */
const char *pw_service_word(int minute);

/** The tree with an id in each of its services that has none and whose time can be read, as the reader would name it, so that
 *  changes can speak of it.  NULL when memory is out. */
struct pw_node *pw_services_named(const struct pw_node *root, struct pw_reader *r);

#endif
