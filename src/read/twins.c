/* twins.c - see twins.h. */
#include "read/twins.h"

#include "base/num.h"
#include "read/tree_edit.h"

#include <string.h>

/* How many the entry stands for; 0: it has no count that is sound. */
static int count_of(const struct pw_node *entry)
{
  int n = 0;
  const char *text = entry->kind == PW_NODE_MAP ? pw_node_word(entry, "count") : NULL;
  return text && pw_int_parse(text, 1, PW_TWINS_MAX, &n) ? n : 0;
}

static const char *id_of(const struct pw_node *entry)
{
  const char *id = pw_node_word(entry, "id");
  return id ? id : pw_node_word(entry, "use");
}

int pw_twin_number(const struct pw_node *entry, const char *name)
{
  const int n = count_of(entry);
  const char *id = n > 0 ? id_of(entry) : NULL;
  const size_t length = id ? strlen(id) : 0;
  int k = 0;
  if (!id || strncmp(name, id, length) != 0 || name[length] != '-' || !pw_int_parse(name + length + 1, 1, n, &k))
    return 0;
  return k;
}

struct pw_node *pw_twin(const struct pw_node *entry, int k, struct pw_reader *r)
{
  const struct pw_node *name = pw_node_get(entry, "name"), *id = pw_node_get(entry, "id");
  const char *word = id_of(entry);
  struct pw_node *twin = pw_node_copy(entry, 1, r), *text = NULL;
  if (!twin)
    return NULL;
  pw_node_drop(twin, "count");
  if (!word || k == 0)
    return twin; /* it has neither, a fault of its own */
  if (!(text = pw_node_text_at(id ? id : pw_node_get(entry, "use"), pw_reader_printf(r, "%s-%d", word, k), r)))
    return NULL;
  pw_node_put(twin, "id", text);
  if (pw_node_word(entry, "name")) {
    if (!(text = pw_node_text_at(name, pw_reader_printf(r, "%s %d", name->text, k), r)))
      return NULL;
    pw_node_put(twin, "name", text);
  }
  return twin;
}

static struct pw_node *list_expand(const struct pw_node *list, struct pw_reader *r)
{
  int more = 0, n = 0;
  for (int i = 0; i < list->n; i++)
    more += count_of(list->items[i]);
  struct pw_node *out = pw_node_copy(list, more, r);
  for (int i = 0; out && i < list->n; i++) {
    const struct pw_node *entry = list->items[i], *said = pw_node_get(entry, "count");
    const int count = count_of(entry);
    out->items[n++] = list->items[i];
    if (!said)
      continue;
    if (count == 0)
      pw_reader_fault(r, said, "bad-count", "\"count\": how many alike there are is a whole number from 1 to %d",
                      PW_TWINS_MAX);
    n--;
    for (int k = count > 1 ? 1 : 0; k <= (count > 1 ? count : 0); k++) /* one, or a faulty count, has no number */
      if (!(out->items[n++] = pw_twin(entry, k, r)))
        return NULL;
  }
  if (out)
    out->n = n;
  return out;
}

struct pw_node *pw_twins_expand(const struct pw_node *root, struct pw_reader *r)
{
  static const char *const lists[] = {"pits", "finishers"};
  struct pw_node *out = pw_node_copy(root, 0, r);
  for (int i = 0; out && i < 2; i++) {
    struct pw_pair *pair = pw_node_find(out, lists[i]);
    if (pair && pair->value->kind == PW_NODE_LIST && !(pair->value = list_expand(pair->value, r)))
      return NULL;
  }
  return out;
}
