#include <signal.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>

#include "cli/story_call.h"

// Stands where the shell of a story looks for the program, and has the server beside it run the command: see `story_server.h`.
namespace {
using tierproof::demo::files_passed;
using tierproof::demo::StoryCall;

int give_up(const char* doing) {
  std::perror(doing);
  return 125;
}

bool send_all(int socket, const std::string& bytes) {
  for (std::size_t sent = 0; sent < bytes.size();) {
    const auto now = ::write(socket, bytes.data() + sent, bytes.size() - sent);
    if (now <= 0) return false;
    sent += static_cast<std::size_t>(now);
  }
  return true;
}

bool send_with_files(int socket, const StoryCall& call) {
  const int files[files_passed] = {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO};
  StoryCall sent = call;
  iovec part{&sent, sizeof sent};
  alignas(cmsghdr) char control[CMSG_SPACE(sizeof files)] = {};
  msghdr message{};
  message.msg_iov = &part;
  message.msg_iovlen = 1;
  message.msg_control = control;
  message.msg_controllen = sizeof control;
  cmsghdr* header = CMSG_FIRSTHDR(&message);
  header->cmsg_level = SOL_SOCKET;
  header->cmsg_type = SCM_RIGHTS;
  header->cmsg_len = CMSG_LEN(sizeof files);
  std::memcpy(CMSG_DATA(header), files, sizeof files);
  return ::sendmsg(socket, &message, 0) == static_cast<ssize_t>(sizeof sent);
}

constexpr int handed_on[] = {SIGTERM, SIGINT, SIGHUP};
pid_t program = 0;

/// Who ends the caller ends the program that runs for it.
void hand_on(int signal) { ::kill(program, signal); }

}  // namespace

extern char** environ;

int main(int argc, char** argv) {
  std::string said;
  const auto add = [&](const char* text) { said.append(text, std::strlen(text) + 1); };
  for (int i = 0; i < argc; ++i) add(argv[i]);
  char folder[4096];
  if (::getcwd(folder, sizeof folder) == nullptr) return give_up("getcwd");
  add(folder);
  for (char** entry = environ; *entry != nullptr; ++entry) add(*entry);

  const char* at = std::getenv("TIERPROOF_STORY_SOCKET");
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  if (at == nullptr || std::strlen(at) >= sizeof address.sun_path) return give_up("TIERPROOF_STORY_SOCKET");
  std::strcpy(address.sun_path, at);
  const int socket = ::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
  if (::connect(socket, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) return give_up("connect");
  const StoryCall call{static_cast<std::uint32_t>(said.size()), static_cast<std::uint32_t>(argc)};
  int exit = 0;
  sigset_t later;  // a signal waits until it is known whom to hand it on to
  ::sigemptyset(&later);
  for (const int one : handed_on) ::sigaddset(&later, one);
  ::sigprocmask(SIG_BLOCK, &later, nullptr);
  if (!send_with_files(socket, call) || !send_all(socket, said)) return give_up("send");
  if (::read(socket, &program, sizeof program) != static_cast<ssize_t>(sizeof program)) return give_up("read");
  for (const int one : handed_on) ::signal(one, hand_on);
  ::sigprocmask(SIG_UNBLOCK, &later, nullptr);
  if (::read(socket, &exit, sizeof exit) != static_cast<ssize_t>(sizeof exit)) return give_up("read");
  return exit;
}
