#include "tierproof/store/record_store.h"

namespace tierproof {

Note note_of(const Entry& entry) {
  Note note;
  note.sequence = entry.sequence;
  note.written = entry.written;
  note.happened = entry.happened;
  note.offset = entry.offset;
  note.person = entry.person;
  note.kind = entry.kind;
  note.subject = entry.subject;
  note.supersedes = entry.supersedes;
  note.how = term_of(entry.how);
  note.body = entry.body;
  note.why = entry.why;
  note.place = entry.sequence;
  return note;
}

}  // namespace tierproof
