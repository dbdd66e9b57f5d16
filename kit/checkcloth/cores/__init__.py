"""Work spread over cores: blocks of arrays on threads, parts of long work in processes."""
