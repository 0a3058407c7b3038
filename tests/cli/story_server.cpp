#include "cli/story_server.h"

#include <signal.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <stdexcept>
#include <string>
#include <vector>

#include "cli/run.h"
#include "cli/story_call.h"
#include "tierproof/app/session.h"

namespace tierproof::demo {
namespace {

struct Called {
  std::vector<std::string> words;
  std::string folder;
  std::vector<std::string> environment;
  int files[files_passed] = {-1, -1, -1};
};

[[noreturn]] void fail(const char* doing) {
  std::perror(doing);
  std::_Exit(125);
}

Called receive(int socket) {
  StoryCall call;
  Called called;
  iovec part{&call, sizeof call};
  alignas(cmsghdr) char control[CMSG_SPACE(sizeof called.files)] = {};
  msghdr message{};
  message.msg_iov = &part;
  message.msg_iovlen = 1;
  message.msg_control = control;
  message.msg_controllen = sizeof control;
  if (::recvmsg(socket, &message, MSG_WAITALL) != static_cast<ssize_t>(sizeof call)) fail("recvmsg");
  const cmsghdr* header = CMSG_FIRSTHDR(&message);
  if (header == nullptr || header->cmsg_len != CMSG_LEN(sizeof called.files)) fail("recvmsg");
  std::memcpy(called.files, CMSG_DATA(header), sizeof called.files);
  std::string said(call.bytes, '\0');
  if (::recv(socket, said.data(), said.size(), MSG_WAITALL) != static_cast<ssize_t>(said.size())) fail("recv");
  std::vector<std::string> strings;
  for (std::size_t from = 0; from < said.size(); from = said.find('\0', from) + 1) strings.emplace_back(said.c_str() + from);
  const auto words_end = strings.begin() + call.words;
  called.words.assign(strings.begin(), words_end);
  called.folder = *words_end;
  called.environment.assign(words_end + 1, strings.end());
  return called;
}

/// Becomes the program that was called, to its end.
[[noreturn]] void become(Called called) {
  if (::chdir(called.folder.c_str()) != 0) fail(called.folder.c_str());
  for (int i = 0; i < files_passed; ++i) ::dup2(called.files[i], i);
  for (const int file : called.files) ::close(file);
  ::signal(SIGPIPE, SIG_DFL);
  ::clearenv();
  for (std::string& entry : called.environment) ::putenv(entry.data());
  std::vector<char*> words;
  for (std::string& word : called.words) words.push_back(word.data());
  words.push_back(nullptr);
  std::exit(cli::run_program(static_cast<int>(called.words.size()), words.data()));
}

/// Serves one call: the program in a child, its exit status to the caller.
[[noreturn]] void serve(int socket) {
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  Called called = receive(socket);
  const pid_t child = ::fork();
  if (child < 0) fail("fork");
  if (child == 0) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    ::close(socket);
    become(std::move(called));
  }
  if (::write(socket, &child, sizeof child) != static_cast<ssize_t>(sizeof child)) fail("write");
  int status = 0;
  if (::waitpid(child, &status, 0) != child) fail("waitpid");
  const int exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (::write(socket, &exit, sizeof exit) != static_cast<ssize_t>(sizeof exit)) fail("write");
  std::_Exit(0);
}

}  // namespace

StoryServer::StoryServer(const std::filesystem::path& socket) {
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  if (socket.string().size() >= sizeof address.sun_path) throw std::runtime_error{socket.string() + " is too long a name for a socket"};
  std::strcpy(address.sun_path, socket.c_str());
  const int listening = ::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
  if (::bind(listening, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0 || ::listen(listening, 16) != 0)
    throw std::runtime_error{socket.string() + ": " + std::strerror(errno)};
  ::setenv("TIERPROOF_STORY_SOCKET", socket.c_str(), 1);
  rule_packs();
  name_hints();
  std::fflush(nullptr);
  server_ = ::fork();
  if (server_ < 0) throw std::runtime_error{std::string{"fork: "} + std::strerror(errno)};
  if (server_ > 0) {
    ::close(listening);
    return;
  }
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  ::signal(SIGCHLD, SIG_IGN);
  while (true) {
    const int one = ::accept4(listening, nullptr, nullptr, SOCK_CLOEXEC);
    if (one < 0) continue;
    if (::fork() == 0) {
      ::signal(SIGCHLD, SIG_DFL);
      ::close(listening);
      serve(one);
    }
    ::close(one);
  }
}

StoryServer::~StoryServer() {
  ::kill(server_, SIGKILL);
  ::waitpid(server_, nullptr, 0);
}

}  // namespace tierproof::demo
