/* fields.h - reading one value into a struct, for schema.c. */
#ifndef PW_FIELDS_H
#define PW_FIELDS_H

#include "read/schema.h"

/** Reads a field of a scalar type (PW_FT_TEXT .. PW_FT_DATE, PW_FT_REF) into *out at the field's offset. */
void pw_field_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r);
/** Index of the node's text in the field's choices, or -1 after a fault. */
int pw_field_choice(const struct pw_field *f, const struct pw_node *node, struct pw_reader *r);
/** Copies a value to its offset. */
void pw_field_put(void *out, size_t offset, const void *value, size_t size);

#endif
