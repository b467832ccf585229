#include "io/xml_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "io/characters.hpp"
#include "io/json_syntax.hpp"

namespace backplan::io {
namespace {

constexpr const char* kAgain = "the file may have been cut off or changed; export it again";

std::string_view without_mark(std::string_view bytes) {
  if (bytes.substr(0, kByteOrderMark.size()) == kByteOrderMark) bytes.remove_prefix(kByteOrderMark.size());
  return bytes;
}

// Looks at every node once, without recursion.
class DepthWalker : public pugi::xml_tree_walker {
 public:
  bool for_each(pugi::xml_node& node) override {
    if (node.type() == pugi::node_doctype) doctype = node;
    if (depth() >= kMostXmlDepth) too_deep = node;
    return !doctype && !too_deep;
  }
  pugi::xml_node doctype;
  pugi::xml_node too_deep;
};

const char* words_of(pugi::xml_parse_status status) {
  switch (status) {
    case pugi::status_end_element_mismatch:
      return "an element ends that is not the last one opened, or the text ends inside an element";
    case pugi::status_no_document_element:
      return "there is no element in the XML";
    case pugi::status_bad_attribute:
      return "an attribute is not written as XML writes them";
    case pugi::status_bad_doctype:
      return "the document type is not written as XML writes it";
    case pugi::status_out_of_memory:
      return "the XML takes more memory than there is";
    default:
      return "this is not written as XML is";
  }
}

}  // namespace

bool is_xml(std::string_view bytes) {
  bytes = without_mark(bytes);
  const std::size_t first = skip_space(bytes, 0);
  return first < bytes.size() && bytes[first] == '<';
}

std::string_view local_name(pugi::xml_node node) {
  const std::string_view name = node.name();
  const std::size_t colon = name.rfind(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node first_child(pugi::xml_node parent, std::string_view name) {
  pugi::xml_node child = parent.first_child();
  while (child && local_name(child) != name) child = child.next_sibling();
  return child;
}

pugi::xml_node next_sibling(pugi::xml_node node, std::string_view name) {
  do {
    node = node.next_sibling();
  } while (node && local_name(node) != name);
  return node;
}

Result<std::shared_ptr<const XmlText>> XmlText::parse(std::string_view bytes, const std::string& file) {
  std::shared_ptr<XmlText> xml(new XmlText(file));
  bytes = without_mark(bytes);
  const auto many = [bytes](char c, std::size_t most) {
    return static_cast<std::size_t>(std::count(bytes.begin(), bytes.end(), c)) > most;
  };
  if (many('<', kMostXmlTags) || many('=', kMostXmlAttributes)) {
    return xml->fault_at(-1, "the XML has more elements than any day of recording", "export one run alone");
  }
  if (const std::size_t bad = find_invalid_utf8(bytes); bad != std::string_view::npos) {
    xml->bytes_ = std::string(bytes.substr(0, bad));
    return xml->fault_at(static_cast<std::ptrdiff_t>(bad), "not a text in UTF-8", "export the file as UTF-8");
  }
  xml->bytes_ = std::string(bytes);
  const auto outcome = xml->document_.load_buffer(
      xml->bytes_.data(), xml->bytes_.size(), pugi::parse_cdata | pugi::parse_escapes | pugi::parse_doctype,
      pugi::encoding_utf8);
  if (!outcome) return xml->fault_at(outcome.offset, words_of(outcome.status), kAgain);
  const Diagnostics faults = xml->judge();
  if (!faults.empty()) return faults;
  return std::shared_ptr<const XmlText>(std::move(xml));
}

Diagnostics XmlText::judge() const {
  DepthWalker walker;
  pugi::xml_node all = document_;
  all.traverse(walker);
  if (walker.doctype) {
    return {fault_at(-1, "the XML declares a document type, which no file of a watch needs",
                     "it may be made to do harm: do not use it; export the run again")};
  }
  if (walker.too_deep) {
    return {fault_at(walker.too_deep, fmt::format("elements are nested deeper than {} levels", kMostXmlDepth),
                     kAgain)};
  }
  return {};
}

Diagnostic XmlText::fault_at(pugi::xml_node node, std::string message, std::string hint) const {
  return fault_at(std::max<std::ptrdiff_t>(node.offset_debug() - 1, -1), std::move(message), std::move(hint));
}

Diagnostic XmlText::fault_at(std::ptrdiff_t offset, std::string message, std::string hint) const {
  Diagnostic fault{Severity::error, file_, 0, 0, {}, std::move(message), std::move(hint)};
  if (offset < 0) return fault;
  const std::string_view before = std::string_view(bytes_).substr(0, static_cast<std::size_t>(offset));
  const std::size_t line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  const std::string_view line = before.substr(line_start);
  fault.line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
  fault.column = 1 + static_cast<int>(std::count_if(line.begin(), line.end(), [](char c) {
                   return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
                 }));
  return fault;
}

}  // namespace backplan::io
