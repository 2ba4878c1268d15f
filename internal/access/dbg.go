package access
var Sharp, Solves, Sure, Quar, Big int
const HADD = false
