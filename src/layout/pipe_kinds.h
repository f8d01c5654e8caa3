/* What pipes are made of, as files and reports call it. */
#ifndef ER_LAYOUT_PIPE_KINDS_H
#define ER_LAYOUT_PIPE_KINDS_H

/* In the order of enum er_pipe_kind, without the kind that is not known; NULL at the end. */
extern const char *const er_pipe_kinds[];

#endif
