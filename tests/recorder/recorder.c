/* Writes down, in the order they happen, every change that a program makes to the files under one folder: linked into the
 * program `recorded`, it stands in front of the C library's own calls. What is written to standard output is written down too:
 * it is what the program acknowledged.
 *
 * The record, in the file that RECORD_TRACE names, is one item after the other: a letter, up to two numbers, how long the path and the
 * data are, a line end, then path and data.
 *   C path           created (or cut to nothing) and open      W path at data   written
 *   T path length    cut or grown to a length                  S path           brought to disk
 *   R path data      renamed to data                           L path data      a second name, data
 *   U path           removed                                   A data           acknowledged
 */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <unistd.h>

static int trace = -2;
static const char *under;
static volatile char busy;

static void all(const void *bytes, size_t left) {
  const char *at = bytes;
  while (left > 0) {
    long done = syscall(SYS_write, trace, at, left);
    if (done <= 0) abort();
    at += done;
    left -= (size_t)done;
  }
}

static int ready(void) {
  if (trace == -2) {
    const char *to = getenv("RECORD_TRACE");
    under = getenv("RECORD_UNDER");
    trace = to && under ? (int)syscall(SYS_openat, AT_FDCWD, to, O_WRONLY | O_CREAT | O_APPEND, 0600) : -1;
  }
  return trace >= 0;
}

static void item(char what, const char *path, long long at, const void *data, size_t length) {
  char head[80];
  int n = snprintf(head, sizeof head, "%c %lld %zu %zu\n", what, at, strlen(path), length);
  while (__atomic_test_and_set(&busy, __ATOMIC_ACQUIRE)) {}
  all(head, (size_t)n);
  all(path, strlen(path));
  all(data, length);
  __atomic_clear(&busy, __ATOMIC_RELEASE);
}

/* The path, if it is under the folder; memory that is shared between programs is never on the disk. */
static int ours(const char *path) {
  size_t n = ready() ? strlen(under) : 0;
  const char *shm = n ? strstr(path, "-shm") : NULL;
  return n && !strncmp(path, under, n) && !(shm && !shm[4]);
}

static int named(int fd, char *path, size_t most) {
  char link[40];
  int saved = errno;
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  long n = syscall(SYS_readlinkat, AT_FDCWD, link, path, most - 1);
  errno = saved;
  path[n > 0 ? n : 0] = 0;
  return n > 0 && ours(path);
}

static int opened(int dir, const char *path, int flags, mode_t mode) {
  struct stat before;
  int there = syscall(SYS_newfstatat, dir, path, &before, 0) == 0;
  int fd = (int)syscall(SYS_openat, dir, path, flags, mode);
  char real[4096];
  if (fd >= 0 && (((flags & O_CREAT) && !there) || (flags & O_TRUNC)) && named(fd, real, sizeof real)) item('C', real, 0, "", 0);
  return fd;
}

#define OPEN(name, ...)                                      \
  {                                                          \
    mode_t mode = 0;                                         \
    if (flags & (O_CREAT | __O_TMPFILE)) {                   \
      va_list rest;                                          \
      va_start(rest, flags);                                 \
      mode = va_arg(rest, mode_t);                           \
      va_end(rest);                                          \
    }                                                        \
    return opened(__VA_ARGS__, path, flags, mode);           \
  }
int open(const char *path, int flags, ...) OPEN(open, AT_FDCWD)
int open64(const char *path, int flags, ...) OPEN(open64, AT_FDCWD)
int openat(int dir, const char *path, int flags, ...) OPEN(openat, dir)
int openat64(int dir, const char *path, int flags, ...) OPEN(openat64, dir)

static void wrote(int fd, const void *data, long done, long long at) {
  char path[4096];
  if (done <= 0) return;
  if (fd == 1 && ready()) item('A', "", 0, data, (size_t)done);
  else if (named(fd, path, sizeof path)) item('W', path, at, data, (size_t)done);
}

ssize_t write(int fd, const void *data, size_t length) {
  long long at = fd > 2 ? syscall(SYS_lseek, fd, 0, SEEK_CUR) : 0;
  long done = syscall(SYS_write, fd, data, length);
  wrote(fd, data, done, at);
  return done;
}

ssize_t pwrite64(int fd, const void *data, size_t length, off64_t at) {
  long done = syscall(SYS_pwrite64, fd, data, length, at);
  wrote(fd, data, done, at);
  return done;
}
ssize_t pwrite(int fd, const void *data, size_t length, off_t at) { return pwrite64(fd, data, length, at); }

int ftruncate64(int fd, off64_t length) {
  char path[4096];
  int done = (int)syscall(SYS_ftruncate, fd, length);
  if (done == 0 && named(fd, path, sizeof path)) item('T', path, length, "", 0);
  return done;
}
int ftruncate(int fd, off_t length) { return ftruncate64(fd, length); }

static int synced(int fd, long how) {
  char path[4096];
  int done = (int)syscall(how, fd);
  if (done == 0 && named(fd, path, sizeof path)) item('S', path, 0, "", 0);
  return done;
}
int fsync(int fd) { return synced(fd, SYS_fsync); }
int fdatasync(int fd) { return synced(fd, SYS_fdatasync); }

int rename(const char *from, const char *to) {
  int done = (int)syscall(SYS_renameat, AT_FDCWD, from, AT_FDCWD, to);
  if (done == 0 && ours(from)) item('R', from, 0, to, strlen(to));
  return done;
}

int linkat(int a, const char *from, int b, const char *to, int flags) {
  int done = (int)syscall(SYS_linkat, a, from, b, to, flags);
  if (done == 0 && ours(from)) item('L', from, 0, to, strlen(to));
  return done;
}
int link(const char *from, const char *to) { return linkat(AT_FDCWD, from, AT_FDCWD, to, 0); }

int unlink(const char *path) {
  int done = (int)syscall(SYS_unlinkat, AT_FDCWD, path, 0);
  if (done == 0 && ours(path)) item('U', path, 0, "", 0);
  return done;
}
